import gammaln from '@stdlib/math-base-special-gammaln';
import chisquare from '@stdlib/stats-base-dists-chisquare';
import f from '@stdlib/stats-base-dists-f';
import type { SpotMm } from '../face/coordinates.ts';
import type { Group } from './groups.ts';
import { scatterOf } from './scatter.ts';

/** Mean of the sample standard deviation of n normal values, over the true one. */
export function c4(n: number): number {
  return Math.sqrt(2 / (n - 1)) * Math.exp(gammaln(n / 2) - gammaln((n - 1) / 2));
}

/**
 * A group's centre and spread. The isotropic spread pools both axes, so n arrows give 2(n - 1)
 * degrees of freedom (Siddiqui 1964, J. Res. NBS 68D(9), with the mean estimated); its interval is
 * the chi-square one. The region of the centre is Hotelling's, full covariance (NIST Dataplot,
 * one-sample Hotelling), and needs three arrows.
 * @param positions at least one
 */
export function groupStatistics(positions: readonly SpotMm[]): Group {
  const { n, mean, covariance, sumOfSquares } = scatterOf(positions);
  if (n < 2) {
    return {
      n,
      meanMm: mean,
      sigmaMm: null,
      sigmaInterval95Mm: null,
      meanRadiusMm: null,
      extremeSpreadMm: null,
      covarianceMm2: null,
      centreRegion95Mm: null,
    };
  }
  const df = 2 * (n - 1);
  const rms = Math.sqrt(sumOfSquares / df);
  const radii = positions.map((p) => Math.hypot(p[0] - mean[0], p[1] - mean[1]));
  let extreme = 0;
  for (const [i, a] of positions.entries()) {
    for (const b of positions.slice(i + 1)) {
      extreme = Math.max(extreme, Math.hypot(a[0] - b[0], a[1] - b[1]));
    }
  }
  return {
    n,
    meanMm: mean,
    sigmaMm: rms / c4(df + 1),
    sigmaInterval95Mm: [
      rms * Math.sqrt(df / chisquare.quantile(0.975, df)),
      rms * Math.sqrt(df / chisquare.quantile(0.025, df)),
    ],
    meanRadiusMm: radii.reduce((sum, r) => sum + r, 0) / n,
    extremeSpreadMm: extreme,
    covarianceMm2: covariance,
    centreRegion95Mm:
      n < 3
        ? null
        : ellipseOf(covariance, (2 * (n - 1) * f.quantile(0.95, 2, n - 2)) / (n - 2) / n),
  };
}

/** Ellipse x' S^-1 x = c2: half-axes, larger first, and the larger one's angle from x, degrees. */
export function ellipseOf(
  covariance: readonly [readonly [number, number], readonly [number, number]],
  c2: number,
): { semiAxes: [number, number]; angleDeg: number } {
  const [[xx, xy], [, yy]] = covariance;
  const middle = (xx + yy) / 2;
  const half = Math.hypot((xx - yy) / 2, xy);
  return {
    semiAxes: [Math.sqrt(c2 * (middle + half)), Math.sqrt(c2 * Math.max(0, middle - half))],
    angleDeg: (Math.atan2(2 * xy, xx - yy) * 90) / Math.PI,
  };
}
