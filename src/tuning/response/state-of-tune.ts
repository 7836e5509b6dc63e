import gammaln from '@stdlib/math-base-special-gammaln';
import { sharesOfLogs } from '../../groups/shares-of-logs.ts';
import type { AxisLaw } from './axis-law.ts';
import type { StudentT } from './normal-inverse-gamma.ts';
import { SPREAD_AT_FIRST } from './spread-at-first.ts';

/**
 * How far a bow's offset may be from what is wanted before its ends say so, standard deviation per
 * axis, mrad: from a bow that was tuned long ago to one that was put together today, each doubling
 * six tenths as likely as the one before, since bows are tuned once and shot for long (own judgement).
 * One width for all would call a direction of a bow in tune sure far too often, or of a new one too
 * seldom.
 */
export const STATES_OF_TUNE: readonly { readonly sdMrad: number; readonly weight: number }[] = [
  0.35, 0.7, 1.4, 2.8, 5.6,
].map((sdMrad) => ({ sdMrad, weight: sdMrad ** -0.75 }));
/** Nodes over the precision that a Student t mixes normals by: at least so many, and so close. */
const NODES = 40;
const NODES_APART = 0.25;
/** Lower than any that matters, so that marks on top of each other do not ask for nodes without end. */
const LEAST_LOG_PRECISION = -30;

/**
 * One coordinate of an offset, seen as a Student t in mrad, with the states of tune as prior. The t
 * is taken apart into normals of gamma-distributed precision, so that each part is exact.
 *
 * A t that rests on nothing but the arrows of one end takes any spread for as likely as any other,
 * also ones that nobody shoots: where a few arrows happen to lie together it is far too sure. With
 * `perSpread`, the offset's scale over the archer's spread, every part is weighed by how likely its
 * spread is of an archer of whom nothing is known.
 */
export function withStateOfTune(
  { mean, scale, df }: StudentT,
  wanted: number,
  perSpread?: number,
): AxisLaw {
  const off = mean - wanted;
  const half = df / 2;
  // The log of a gamma precision has a standard deviation of about 1 / sqrt(half); its lower tail
  // falls off as exp(half x), its upper one far faster.
  const [alone, high] = [-5 / Math.sqrt(half) - 5 / half, 4 / Math.sqrt(half)];
  // Arrows that happen to lie on top of each other must not keep the archer's likely spreads out.
  const likely =
    perSpread === undefined
      ? alone
      : 2 * Math.log(scale / perSpread / SPREAD_AT_FIRST.medianMrad) - 2;
  const low = Math.max(LEAST_LOG_PRECISION, Math.min(alone, likely));
  const nodes = Math.max(NODES, Math.ceil((high - low) / NODES_APART));
  const parts = Array.from({ length: nodes }, (_, i) => {
    const logPrecision = low + ((high - low) * (i + 0.5)) / nodes;
    const precision = Math.exp(logPrecision);
    const logNode =
      half * Math.log(half) -
      gammaln(half) +
      half * (logPrecision - precision) +
      (perSpread === undefined ? 0 : logPriorOf(scale / Math.sqrt(precision) / perSpread));
    return STATES_OF_TUNE.map(({ sdMrad: tau, weight }) => {
      const seen = scale ** 2 / precision;
      const total = seen + tau ** 2;
      return {
        logWeight: logNode + Math.log(weight) - Math.log(total) / 2 - off ** 2 / total / 2,
        law: {
          mean: wanted + (tau ** 2 / total) * off,
          scale: Math.sqrt((seen * tau ** 2) / total),
          df: Infinity,
        },
      };
    });
  }).flat();
  const { shares } = sharesOfLogs(parts.map(({ logWeight }) => logWeight));
  return { parts: parts.map(({ law }, i) => ({ weight: shares[i]!, law })) };
}

/** Log density, up to a constant, that an unknown archer has a spread, mrad. */
function logPriorOf(sigmaMrad: number): number {
  const { medianMrad, logSd } = SPREAD_AT_FIRST;
  return -((Math.log(sigmaMrad / medianMrad) / logSd) ** 2) / 2;
}
