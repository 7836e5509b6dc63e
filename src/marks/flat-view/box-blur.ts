/**
 * Two passes of a running mean over 2 * reach + 1 pixels each way: a small smooth kernel. Beyond the
 * picture its rim goes on.
 *
 * @param image `side` x `side` values, row by row; left as it is.
 */
export function boxBlur(image: Float32Array, side: number, reach: number): Float32Array {
  if (reach < 1) return image.slice();
  const out = image.slice();
  const across = new Float32Array(side * side);
  const width = 2 * reach + 1;
  const padded = new Float32Array(side + width);
  const sums = new Float64Array(side);
  const scale = 1 / width;
  const last = side - 1;
  for (let pass = 0; pass < 2; pass++) {
    for (let y = 0; y < side; y++) {
      const row = y * side;
      padded.fill(out[row]!, 0, reach);
      padded.set(out.subarray(row, row + side), reach);
      padded.fill(out[row + last]!, reach + side);
      let sum = 0;
      for (let x = 0; x < width; x++) sum += padded[x]!;
      for (let x = 0; x < side; x++) {
        across[row + x] = sum * scale;
        sum += padded[x + width]! - padded[x]!;
      }
    }
    sums.fill(0);
    for (let y = -reach; y <= reach; y++) {
      const row = Math.min(last, Math.max(0, y)) * side;
      for (let x = 0; x < side; x++) sums[x]! += across[row + x]!;
    }
    for (let y = 0; y < side; y++) {
      const row = y * side;
      const entering = Math.min(last, y + reach + 1) * side;
      const leaving = Math.max(0, y - reach) * side;
      for (let x = 0; x < side; x++) {
        const sum = sums[x]!;
        out[row + x] = sum * scale;
        sums[x] = sum + across[entering + x]! - across[leaving + x]!;
      }
    }
  }
  return out;
}
