import { Matrix, solve } from 'ml-matrix';

/** Weighted ridge solution of rows * x = wanted. */
export function solveLeastSquares(
  rows: readonly (readonly number[])[],
  wanted: readonly number[],
  weights: readonly number[],
  ridge: number,
): number[] {
  const size = rows[0]!.length;
  const normal = Matrix.zeros(size, size);
  const right = Matrix.zeros(size, 1);
  rows.forEach((row, i) => {
    for (let a = 0; a < size; a++) {
      right.set(a, 0, right.get(a, 0) + weights[i]! * row[a]! * wanted[i]!);
      for (let b = 0; b < size; b++) {
        normal.set(a, b, normal.get(a, b) + weights[i]! * row[a]! * row[b]!);
      }
    }
  });
  for (let a = 0; a < size; a++) normal.set(a, a, normal.get(a, a) + ridge);
  return solve(normal, right).to1DArray();
}
