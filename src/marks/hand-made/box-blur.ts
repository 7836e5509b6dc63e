/** Two passes of a running mean over 2 * reach + 1 pixels each way: a small smooth kernel. */
export function boxBlur(image: Float32Array, side: number, reach: number): Float32Array {
  if (reach < 1) return image.slice();
  let from = image;
  for (let pass = 0; pass < 2; pass++) {
    const across = new Float32Array(side * side);
    const scale = 1 / (2 * reach + 1);
    for (let y = 0; y < side; y++) {
      const row = y * side;
      let sum = 0;
      for (let x = -reach; x <= reach; x++) sum += from[row + clamp(x, side)]!;
      for (let x = 0; x < side; x++) {
        across[row + x] = sum * scale;
        sum += from[row + clamp(x + reach + 1, side)]! - from[row + clamp(x - reach, side)]!;
      }
    }
    const down = new Float32Array(side * side);
    const sums = new Float64Array(side);
    for (let y = -reach; y <= reach; y++) {
      const row = clamp(y, side) * side;
      for (let x = 0; x < side; x++) sums[x] = sums[x]! + across[row + x]!;
    }
    for (let y = 0; y < side; y++) {
      const row = y * side;
      const entering = clamp(y + reach + 1, side) * side;
      const leaving = clamp(y - reach, side) * side;
      for (let x = 0; x < side; x++) {
        down[row + x] = sums[x]! * scale;
        sums[x] = sums[x]! + across[entering + x]! - across[leaving + x]!;
      }
    }
    from = down;
  }
  return from;
}

function clamp(i: number, side: number): number {
  return i < 0 ? 0 : i >= side ? side - 1 : i;
}
