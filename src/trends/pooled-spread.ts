import normal from '@stdlib/stats-base-dists-normal';
import type { TrendEnd } from './trend-ends.ts';

/** Fletched spread per axis, mrad, over ends that each have a centre of their own. */
export interface PooledSpread {
  readonly sigmaMrad: number;
  readonly interval90: [number, number];
}

const Z90 = normal.quantile(0.95, 0, 1);

/** Sum of squares of the fletched arrows about their ends' centres, and its degrees of freedom. */
export function pooledSquares(ends: readonly TrendEnd[]): { squaresMrad2: number; df: number } {
  let [sum, df] = [0, 0];
  for (const { fletched, squaresMrad2 } of ends) {
    sum += squaresMrad2.fletched;
    df += Math.max(0, 2 * (fletched - 1));
  }
  return { squaresMrad2: sum, df };
}

/** The spread of the fletched arrows with its 90 % interval; null below two arrows in every end. */
export function pooledSpread(ends: readonly TrendEnd[]): PooledSpread | null {
  const { squaresMrad2, df } = pooledSquares(ends);
  if (!(df > 0 && squaresMrad2 > 0)) return null;
  const sigmaMrad = Math.sqrt(squaresMrad2 / df);
  // The log of a spread on so many degrees of freedom has a variance of about 1 / (2 df).
  const wide = Math.exp(Z90 / Math.sqrt(2 * df));
  return { sigmaMrad, interval90: [sigmaMrad / wide, sigmaMrad * wide] };
}
