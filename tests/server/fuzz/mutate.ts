const EXTREMES = [
  [0, 0, 0, 0],
  [255, 255, 255, 255],
  [127, 255, 255, 255],
  [128, 0, 0, 0],
  [0, 0, 0, 1],
];

/** One to eight random damages: flipped bits, extremes, cuts, repeats, swaps with another file. */
export function mutate(bytes: Uint8Array, other: Uint8Array, random: () => number): Buffer {
  let out = Buffer.from(bytes);
  // Headers decide most of what a parser does: half of the damage goes there.
  const place = () =>
    Math.floor(random() * (random() < 0.5 ? Math.min(out.length, 600) : out.length));
  // One damage as often as not: it gets past the first check more often than many do.
  const damages = random() < 0.5 ? 1 : 2 + Math.floor(random() * 7);
  for (let i = 0; i < damages && out.length > 8; i++) {
    const at = place();
    const length = 1 + Math.floor(random() * 64);
    switch (Math.floor(random() * 6)) {
      case 0:
        out[at]! ^= 1 << Math.floor(random() * 8);
        break;
      case 1:
        out.set(EXTREMES[Math.floor(random() * EXTREMES.length)]!, Math.min(at, out.length - 4));
        break;
      case 2:
        out = out.subarray(0, Math.max(1, at));
        break;
      case 3:
        out = Buffer.concat([out.subarray(0, at), out.subarray(at, at + length), out.subarray(at)]);
        break;
      case 4:
        out = Buffer.concat([out.subarray(0, at), out.subarray(at + length)]);
        break;
      default: {
        const from = Math.floor(random() * other.length);
        out = Buffer.concat([
          out.subarray(0, at),
          other.subarray(from, from + length * 8),
          out.subarray(at),
        ]);
      }
    }
    out = Buffer.from(out);
  }
  return out;
}
