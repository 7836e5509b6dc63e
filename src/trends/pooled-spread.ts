import chisquare from '@stdlib/stats-base-dists-chisquare';
import type { TrendEnd } from './trend-ends.ts';

/** Fletched spread per axis, mrad, over ends that each have a centre of their own. */
export interface PooledSpread {
  readonly sigmaMrad: number;
  readonly interval90: [number, number];
}

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
  return { sigmaMrad, interval90: spreadInterval90(sigmaMrad, df) };
}

/** 90 % interval of a root mean square on so many degrees of freedom, by chi-square; any unit. */
export function spreadInterval90(rms: number, df: number): [number, number] {
  return [
    rms * Math.sqrt(df / chisquare.quantile(0.95, df)),
    rms * Math.sqrt(df / chisquare.quantile(0.05, df)),
  ];
}
