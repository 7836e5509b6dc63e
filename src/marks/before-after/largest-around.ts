/** Largest value within a square of 2 * reach + 1 pixels, by rows and then by columns. */
export function largestAround(image: Float32Array, side: number, reach: number): Float32Array {
  const across = new Float32Array(side * side);
  for (let y = 0; y < side; y++) {
    const row = y * side;
    for (let x = 0; x < side; x++) {
      let largest = -Infinity;
      const stop = Math.min(side - 1, x + reach);
      for (let k = Math.max(0, x - reach); k <= stop; k++) {
        if (image[row + k]! > largest) largest = image[row + k]!;
      }
      across[row + x] = largest;
    }
  }
  const out = new Float32Array(side * side);
  for (let y = 0; y < side; y++) {
    const stop = Math.min(side - 1, y + reach);
    const row = y * side;
    out.set(across.subarray(row, row + side), row);
    for (let k = Math.max(0, y - reach); k <= stop; k++) {
      const other = k * side;
      for (let x = 0; x < side; x++) {
        if (across[other + x]! > out[row + x]!) out[row + x] = across[other + x]!;
      }
    }
  }
  return out;
}
