import { sharesOfLogs } from '../groups/shares-of-logs.ts';
import type { AxisLaw } from '../tuning/response/axis-law.ts';
import { observeLines, type LineSums } from '../tuning/response/gaussian-line.ts';
import type { Expected } from '../tuning/bow/parts.ts';

/** One way the noise of a line may be, and the log of how likely it is before the observations. */
export interface LineSupposition {
  readonly sums: LineSums;
  readonly log: number;
}

export interface LineMixture {
  /** By coefficient. */
  readonly laws: readonly AxisLaw[];
  /** By supposition: how likely it is after the observations; they sum to 1. */
  readonly shares: readonly number[];
}

/** One way the coefficients may be expected, and the log of how likely it is before the observations. */
export interface LinePrior {
  /** Of each coefficient, normal by itself. */
  readonly expected: readonly Expected[];
  readonly log: number;
}

/** Suppositions less likely than this change nothing that anybody sees. */
const NEGLIGIBLE = 1e-5;

/**
 * Laws of the coefficients of a linear model whose noise is not known, weighed by how well each
 * supposition of it, under each of the priors, foretells the observations.
 */
export function lineMixture(
  priors: readonly LinePrior[],
  suppositions: readonly LineSupposition[],
): LineMixture {
  const supposed = suppositions.flatMap(({ sums, log }, at) =>
    priors.map(({ expected, log: ofPrior }) => {
      const means = expected.map(({ mean }) => mean);
      const { covariance, lines } = observeLines(
        expected.map(({ sd }) => sd),
        [means],
        sums,
      );
      const { mean, logEvidence } = lines[0]!;
      return { at, mean, covariance, log: log + ofPrior + logEvidence };
    }),
  );
  const each = sharesOfLogs(supposed.map(({ log }) => log)).shares;
  const kept = supposed.flatMap((one, i) =>
    each[i]! < NEGLIGIBLE ? [] : [{ ...one, weight: each[i]! }],
  );
  const all = kept.reduce((sum, { weight }) => sum + weight, 0);
  const shares = suppositions.map(() => 0);
  supposed.forEach(({ at }, i) => (shares[at]! += each[i]!));
  return {
    laws: priors[0]!.expected.map((_, i) => ({
      parts: kept.map(({ mean, covariance, weight }) => ({
        weight: weight / all,
        law: { mean: mean[i]!, scale: Math.sqrt(covariance[i]![i]!), df: Infinity },
      })),
    })),
    shares,
  };
}
