import f from '@stdlib/stats-base-dists-f';
import type { Scatter } from './scatter.ts';

export interface Hotelling {
  readonly t2: number;
  readonly f: number;
  readonly df: [number, number];
  readonly p: number;
}

/**
 * Two-sample Hotelling T2 in the plane with pooled covariance: F = (n1+n2-3) / (2 (n1+n2-2)) T2 on
 * (2, n1+n2-3). Null where the degrees of freedom run out or the points lie on one line.
 */
export function hotelling(first: Scatter, second: Scatter): Hotelling | null {
  const total = first.n + second.n;
  const df2 = total - 3;
  if (df2 < 1) return null;
  const pool = (row: 0 | 1, column: 0 | 1) =>
    ((first.n - 1) * first.covariance[row][column] +
      (second.n - 1) * second.covariance[row][column]) /
    (total - 2);
  const [xx, xy, yy] = [pool(0, 0), pool(0, 1), pool(1, 1)];
  const determinant = xx * yy - xy * xy;
  if (!(determinant > 1e-12 * (xx + yy) ** 2)) return null;
  const dx = second.mean[0] - first.mean[0];
  const dy = second.mean[1] - first.mean[1];
  const distance2 = (yy * dx * dx - 2 * xy * dx * dy + xx * dy * dy) / determinant;
  const t2 = ((first.n * second.n) / total) * distance2;
  const ratio = (df2 / (2 * (total - 2))) * t2;
  return { t2, f: ratio, df: [2, df2], p: 1 - f.cdf(ratio, 2, df2) };
}
