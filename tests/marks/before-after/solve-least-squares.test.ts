import { expect, test } from 'vitest';
import { solveLeastSquares } from '../../../src/marks/before-after/solve-least-squares.ts';

/*
 * NIST Statistical Reference Datasets, linear regression 'Norris' (from memory): slope 1.00211681802045,
 * intercept -0.262323073774029.
 */
const NORRIS = [
  [0.1, 0.2], [338.8, 337.4], [118.1, 118.2], [888.0, 884.6], [9.2, 10.1], [228.1, 226.5],
  [668.5, 666.3], [998.5, 996.3], [449.1, 448.6], [778.9, 777.0], [559.2, 558.2], [0.3, 0.4],
  [0.1, 0.6], [778.1, 775.5], [668.8, 666.9], [339.3, 338.0], [448.9, 447.5], [10.8, 11.6],
  [557.7, 556.0], [228.3, 228.1], [998.0, 995.8], [888.8, 887.6], [119.6, 120.2], [0.3, 0.3],
  [0.6, 0.3], [557.6, 556.8], [339.3, 339.1], [888.0, 887.2], [998.5, 999.0], [778.9, 779.0],
  [10.2, 11.1], [117.6, 118.3], [228.9, 229.2], [668.4, 669.1], [449.2, 448.9], [0.2, 0.5],
] as const; // prettier-ignore

test('fits a published line to its certified figures', () => {
  const rows = NORRIS.map(([, x]) => [1, x]);
  const wanted = NORRIS.map(([y]) => y);
  const [intercept, slope] = solveLeastSquares(
    rows,
    wanted,
    NORRIS.map(() => 1),
    0,
  );
  expect(slope).toBeCloseTo(1.00211681802045, 8);
  expect(intercept).toBeCloseTo(-0.262323073774029, 7);
});

test('a weight is as many equal rows, and a ridge holds back what nothing tells', () => {
  const [twice] = solveLeastSquares([[1], [1]], [3, 6], [2, 1], 0);
  expect(twice).toBeCloseTo(4, 12);
  // Only x + y is told, 2 of it: the smallest solution shares it, a little short by the ridge.
  const [x, y] = solveLeastSquares([[1, 1]], [2], [1], 1e-6);
  expect(x).toBeCloseTo(1, 5);
  expect(y).toBeCloseTo(1, 5);
});
