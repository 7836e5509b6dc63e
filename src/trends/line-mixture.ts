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

/** Suppositions less likely than this change nothing that anybody sees. */
const NEGLIGIBLE = 1e-5;

/**
 * Laws of the coefficients of a linear model whose noise is not known, weighed by how well each
 * supposition of it foretells the observations.
 * @param prior of the coefficients, each normal by itself
 */
export function lineMixture(
  prior: readonly Expected[],
  suppositions: readonly LineSupposition[],
): LineMixture {
  const [sds, means] = [prior.map(({ sd }) => sd), prior.map(({ mean }) => mean)];
  const supposed = suppositions.map(({ sums, log }) => {
    const { covariance, lines } = observeLines(sds, [means], sums);
    const { mean, logEvidence } = lines[0]!;
    return { mean, covariance, log: log + logEvidence };
  });
  const { shares } = sharesOfLogs(supposed.map(({ log }) => log));
  const kept = supposed.flatMap((one, i) =>
    shares[i]! < NEGLIGIBLE ? [] : [{ ...one, weight: shares[i]! }],
  );
  const all = kept.reduce((sum, { weight }) => sum + weight, 0);
  return {
    laws: prior.map((_, i) => ({
      parts: kept.map(({ mean, covariance, weight }) => ({
        weight: weight / all,
        law: { mean: mean[i]!, scale: Math.sqrt(covariance[i]![i]!), df: Infinity },
      })),
    })),
    shares,
  };
}
