import { offsetMixture, radiusOfMixture, type SpreadPrior } from './offset-posterior.ts';
import type { Scatter } from './scatter.ts';

/**
 * The region is to hold nine times in ten whether the bare shafts scatter as much as the fletched arrows or twice
 * as much, not on average over archers: so next to nothing is taken for granted of the ratio. Priors that are flat
 * in the logs of both spreads make such a region hold too often (Robinson 1976, Annals of Statistics 4, from
 * memory); a prior of the spread that goes as sigma^-3 makes up for that (by simulation).
 */
export const ANY_RATIO = { ratio: 1.2, logSd: 1.8 } as const;
export const MATCHING_DF = 2;

/**
 * Radius of the circle about the bare mean less the fletched one that holds the true offset nine times in ten, mm,
 * where nothing is known of how much wider this archer's bare shafts scatter. Null unless there are two of each
 * kind: with one bare shaft nothing in the end tells the ratio, and what is usual has to.
 */
export function openRegion90(
  fletched: Scatter,
  bare: Scatter,
  spread: SpreadPrior | undefined,
): number | null {
  if (fletched.n < 2 || bare.n < 2) return null;
  const given = { spread, bareSpread: ANY_RATIO, matchingDf: MATCHING_DF };
  const mixture = offsetMixture(fletched, bare, given);
  return mixture && radiusOfMixture(mixture, 0.9);
}
