import chisquare from '@stdlib/stats-base-dists-chisquare';
import type { ArcherRecord } from '../groups/archer-record.ts';
import { BARE_SPREAD_AT_FIRST, DAY_LOG_SD } from '../groups/offset-posterior.ts';

/** The scatter of one end about its own centres, at angular scale. */
export interface EndScatter {
  readonly sessionId: string;
  /** ISO date and time. */
  readonly shotAt: string;
  readonly fletched: number;
  readonly bare: number;
  readonly squaresMrad2: { readonly fletched: number; readonly bare: number };
}

export interface RecordOptions {
  /** The day it is learned for: ISO date and time. */
  readonly at: string;
  /** After so many days an end counts half. @default 120 */
  readonly halfLifeDays?: number | undefined;
}

const DAY_MS = 86_400_000;
/** What the first guess of day-to-day form is worth, in sessions. */
const FORM_PRIOR_SESSIONS = 8;

/**
 * An archer's usual spread from the scatter within ends, older ends counted for less; with it the
 * ratio of bare to fletched spread and how much a day differs from the usual. Null when no end has
 * two fletched arrows.
 */
export function learnRecord(
  ends: readonly EndScatter[],
  { at, halfLifeDays = 120 }: RecordOptions,
): ArcherRecord | null {
  const aged = ends
    .map((end) => ({
      end,
      age: Math.max(0, Date.parse(at) - Date.parse(end.shotAt)) / DAY_MS,
    }))
    .map(({ end, age }) => ({ ...end, weight: 0.5 ** (age / halfLifeDays) }))
    .filter((end) => end.fletched >= 2);
  if (aged.length === 0) return null;
  const fletched = tamedScatter(
    aged.map(({ squaresMrad2, fletched: n, weight }) => ({
      squares: squaresMrad2.fletched,
      df: 2 * (n - 1),
      weight,
    })),
  );
  if (fletched.squares <= 0) return null;
  const bare = tamedScatter(
    aged
      .filter((end) => end.bare >= 2)
      .map(({ squaresMrad2, bare: n, weight }) => ({
        squares: squaresMrad2.bare,
        df: 2 * (n - 1),
        weight,
      })),
  );
  const { sigmaMrad, logVariance, bareSpread } = learnSpreads(fletched, bare);
  return {
    sigmaMrad,
    arrows: 1 / (4 * logVariance) + 1,
    bareSpread,
    dayLogSd: learnForm(aged, fletched.squares / fletched.df),
  };
}

interface Aged extends EndScatter {
  readonly weight: number;
}

interface PooledScatter {
  /** Sum of squares about the ends' own centres. */
  readonly squares: number;
  readonly df: number;
}

/** Scatter of all ends together; an end far beyond chance is counted as at its edge. */
function tamedScatter(
  ends: readonly { readonly squares: number; readonly df: number; readonly weight: number }[],
): PooledScatter {
  const df = ends.reduce((sum, end) => sum + end.weight * end.df, 0);
  let squares = ends.reduce((sum, end) => sum + end.weight * end.squares, 0);
  if (df === 0) return { squares: 0, df: 0 };
  const edges = new Map(ends.map((end) => [end.df, chisquare.quantile(0.998, end.df)]));
  for (let round = 0; round < 5; round++) {
    const variance = squares / df;
    squares = ends.reduce(
      (sum, end) => sum + end.weight * Math.min(end.squares, edges.get(end.df)! * variance),
      0,
    );
  }
  return { squares, df };
}

/**
 * Spread of fletched arrows and ratio of the bare shafts' to it, jointly: given the ratio both kinds
 * tell the spread (flat in its log), so the ratio's posterior lies on a grid, and the spread's moments
 * are taken over it. How they go together is kept, for where one is over, the other is under.
 */
function learnSpreads(
  fletched: PooledScatter,
  bare: PooledScatter,
): {
  readonly sigmaMrad: number;
  /** Of the log of `sigmaMrad`. */
  readonly logVariance: number;
  readonly bareSpread: NonNullable<ArcherRecord['bareSpread']>;
} {
  const df = fletched.df + bare.df;
  const nodes = Array.from({ length: 161 }, (_, i) => {
    const z = i / 20 - 4;
    const logRatio = Math.log(BARE_SPREAD_AT_FIRST.ratio) + BARE_SPREAD_AT_FIRST.logSd * z;
    const squares = fletched.squares + bare.squares / Math.exp(2 * logRatio);
    return {
      logRatio,
      logSigma: Math.log(squares / df) / 2,
      logWeight: -(z ** 2) / 2 - bare.df * logRatio - (df / 2) * Math.log(squares),
    };
  });
  const top = Math.max(...nodes.map((node) => node.logWeight));
  const weights = nodes.map((node) => Math.exp(node.logWeight - top));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const mean = (of: (node: (typeof nodes)[number]) => number) =>
    nodes.reduce((sum, node, i) => sum + weights[i]! * of(node), 0) / total;
  const logRatio = mean((node) => node.logRatio);
  const logSigma = mean((node) => node.logSigma);
  const ofRatio = mean((node) => (node.logRatio - logRatio) ** 2);
  const ofSigma = mean((node) => (node.logSigma - logSigma) ** 2) + 1 / (2 * df);
  const together = mean((node) => (node.logRatio - logRatio) * (node.logSigma - logSigma));
  return {
    sigmaMrad: Math.exp(logSigma),
    logVariance: ofSigma,
    bareSpread: {
      ratio: Math.exp(logRatio),
      logSd: Math.sqrt(ofRatio),
      correlation: together / Math.sqrt(ofRatio * ofSigma),
    },
  };
}

/** Day-to-day standard deviation of log spread: what sessions differ beyond chance. */
function learnForm(ends: readonly Aged[], variance: number): number {
  const sessions = new Map<string, { squares: number; df: number; weight: number }>();
  for (const { sessionId, fletched, squaresMrad2, weight } of ends) {
    const session = sessions.get(sessionId) ?? { squares: 0, df: 0, weight };
    session.squares += squaresMrad2.fletched;
    session.df += 2 * (fletched - 1);
    sessions.set(sessionId, session);
  }
  let [sum, count] = [FORM_PRIOR_SESSIONS * DAY_LOG_SD ** 2, FORM_PRIOR_SESSIONS];
  for (const { squares, df, weight } of sessions.values()) {
    if (df < 8 || squares <= 0) continue;
    // log of a mean square on df degrees of freedom: mean about -1/df, variance about 2/df.
    const log = (Math.log(squares / df / variance) + 1 / df) / 2;
    sum += weight * (log ** 2 - 1 / (2 * df));
    count += weight;
  }
  return Math.sqrt(Math.max(0.03 ** 2, sum / count));
}
