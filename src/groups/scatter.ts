import type { SpotMm } from '../face/coordinates.ts';

export interface Scatter {
  readonly n: number;
  readonly mean: [number, number];
  /** Unbiased sample covariance; zeros for one position. */
  readonly covariance: [[number, number], [number, number]];
  /** Squared distances from the mean, both axes together. */
  readonly sumOfSquares: number;
}

/** Mean and scatter of positions; two passes, so large coordinates lose no digits. */
export function scatterOf(positions: readonly SpotMm[]): Scatter {
  const n = positions.length;
  if (n === 0) throw new RangeError('A scatter needs at least one position.');
  const mean: [number, number] = [0, 0];
  for (const p of positions) {
    mean[0] += p[0] / n;
    mean[1] += p[1] / n;
  }
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (const p of positions) {
    const dx = p[0] - mean[0];
    const dy = p[1] - mean[1];
    xx += dx * dx;
    xy += dx * dy;
    yy += dy * dy;
  }
  const by = Math.max(1, n - 1);
  return {
    n,
    mean,
    covariance: [
      [xx / by, xy / by],
      [xy / by, yy / by],
    ],
    sumOfSquares: xx + yy,
  };
}
