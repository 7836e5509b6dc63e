/**
 * The value that `n` of the first `count` values come before in order of size (the smallest for 0),
 * found without sorting them all. The values change their order.
 */
export function nthSmallest(values: Float32Array, count: number, n: number): number {
  let left = 0;
  let right = count - 1;
  while (left < right) {
    const pivot = values[(left + right) >> 1]!;
    let i = left;
    let j = right;
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i > j) break;
      const swapped = values[i]!;
      values[i++] = values[j]!;
      values[j--] = swapped;
    }
    if (n <= j) right = j;
    else if (n >= i) left = i;
    else break;
  }
  return values[n]!;
}
