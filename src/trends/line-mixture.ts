import type { AxisLaw } from '../tuning/response/axis-law.ts';
import { observeLines, type LineSums } from '../tuning/response/gaussian-line.ts';
import type { Expected } from '../tuning/bow/parts.ts';

/** One way the noise of a line may be, and the log of how likely it is before the observations. */
export interface LineSupposition {
  readonly sums: LineSums;
  readonly log: number;
}

/**
 * Laws of the coefficients of a linear model whose noise is not known, weighed by how well each
 * supposition of it foretells the observations.
 * @param prior of the coefficients, each normal by itself
 */
export function lineMixture(
  prior: readonly Expected[],
  suppositions: readonly LineSupposition[],
): AxisLaw[] {
  const [sds, means] = [prior.map(({ sd }) => sd), prior.map(({ mean }) => mean)];
  const laws = suppositions.map(({ sums, log }) => {
    const { covariance, lines } = observeLines(sds, [means], sums);
    const { mean, logEvidence } = lines[0]!;
    return { mean, covariance, log: log + logEvidence };
  });
  const top = Math.max(...laws.map(({ log }) => log));
  const total = laws.reduce((sum, { log }) => sum + Math.exp(log - top), 0);
  return prior.map((_, i) => ({
    parts: laws.map(({ mean, covariance, log }) => ({
      weight: Math.exp(log - top) / total,
      law: { mean: mean[i]!, scale: Math.sqrt(covariance[i]![i]!), df: Infinity },
    })),
  }));
}
