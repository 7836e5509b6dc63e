import type { ArcherRecord } from '../../groups/archer-record.ts';
import { BARE_SPREAD_AT_FIRST, spreadPrior } from '../../groups/offset-posterior.ts';
import type { ResponseEnd } from './response-ends.ts';
import { SPREAD_AT_FIRST } from './spread-at-first.ts';

/** A spread that the archer may have. */
export interface PossibleSpread {
  /** Of fletched arrows, per axis. */
  readonly sigmaMrad: number;
  /** Log of how likely it is, up to a constant. */
  readonly log: number;
}

/** Places about the likeliest spread, in standard deviations of its log: close enough for a sum over them. */
const NODES = [-1.6, 0, 1.6] as const;
const MEDIAN = Math.log(SPREAD_AT_FIRST.medianMrad);

/**
 * Spreads that the archer may have, by the scatter within the ends or by the record, whichever tells
 * more: not by both, for a record is learned from the same ends. The middle one is the likeliest.
 */
export function possibleSpreads(
  ends: readonly ResponseEnd[],
  ratio: number,
  record: ArcherRecord | undefined,
): PossibleSpread[] {
  const { fletched, bare } = scatterOfEnds(ends);
  const own = { squares: fletched.squares + bare.squares / ratio ** 2, df: fletched.df + bare.df };
  const known = record ? spreadPrior(record, 1) : null;
  const isRecord = known !== null && known.df > own.df;
  const { squares, df } = isRecord ? { squares: known.df * known.sigmaMm ** 2, df: known.df } : own;
  const prior = isRecord ? 0 : 1 / SPREAD_AT_FIRST.logSd ** 2;
  // Newton's method for the likeliest log of the spread; the curvature there is its precision.
  let [mode, curvature] = [df > 0 && squares > 0 ? Math.log(squares / df) / 2 : MEDIAN, 1];
  mode = Math.min(MEDIAN + 2, Math.max(MEDIAN - 2, mode));
  for (let round = 0; round < 20; round++) {
    const pull = squares / Math.exp(2 * mode);
    curvature = 2 * pull + prior;
    const step = (pull - df - prior * (mode - MEDIAN)) / curvature;
    mode += Math.min(0.5, Math.max(-0.5, step));
  }
  return NODES.map((z) => {
    const logSigma = mode + z / Math.sqrt(curvature);
    const log =
      -df * logSigma -
      squares / 2 / Math.exp(2 * logSigma) -
      (prior * (logSigma - MEDIAN) ** 2) / 2;
    return { sigmaMrad: Math.exp(logSigma), log };
  });
}

/**
 * How much archers differ in that ratio, standard deviation of its log (own judgement): here one number stands
 * for it, and must not follow what few bare shafts happen to do.
 */
const RATIOS_LOG_SD = 0.25;

/** Spread of bare shafts over that of fletched arrows, from the record or from the ends themselves. */
export function bareRatioOf(
  ends: readonly ResponseEnd[],
  record: ArcherRecord | undefined,
): number {
  if (record?.bareSpread) return record.bareSpread.ratio;
  const { ratio } = BARE_SPREAD_AT_FIRST;
  const { fletched, bare } = scatterOfEnds(ends);
  if (fletched.df * fletched.squares === 0 || bare.df * bare.squares === 0) return ratio;
  const seen = Math.log(bare.squares / bare.df / (fletched.squares / fletched.df)) / 2;
  // The log of a spread on so many degrees of freedom has a variance of about 1 / (2 df).
  const variance = 1 / (2 * fletched.df) + 1 / (2 * bare.df);
  const share = RATIOS_LOG_SD ** 2 / (RATIOS_LOG_SD ** 2 + variance);
  return Math.exp((1 - share) * Math.log(ratio) + share * seen);
}

interface KindScatter {
  /** Squared distances from the own ends' centres, mrad2, and their degrees of freedom. */
  readonly squares: number;
  readonly df: number;
}

function scatterOfEnds(ends: readonly ResponseEnd[]): Record<'fletched' | 'bare', KindScatter> {
  const of = (kind: 'fletched' | 'bare'): KindScatter => ({
    squares: ends.reduce((sum, end) => sum + end.squaresMrad2[kind], 0),
    df: ends.reduce((sum, end) => sum + 2 * (end[kind] - 1), 0),
  });
  return { fletched: of('fletched'), bare: of('bare') };
}
