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
  const df = aged.reduce((sum, end) => sum + end.weight * 2 * (end.fletched - 1), 0);
  const variance = tamedVariance(
    aged.map(({ squaresMrad2, fletched, weight }) => ({
      squares: squaresMrad2.fletched,
      df: 2 * (fletched - 1),
      weight,
    })),
  );
  if (variance <= 0) return null;
  return {
    sigmaMrad: Math.sqrt(variance),
    arrows: df / 2 + 1,
    bareSpread: learnBareSpread(aged),
    dayLogSd: learnForm(aged, variance),
  };
}

interface Aged extends EndScatter {
  readonly weight: number;
}

/** Mean square per degree of freedom; an end far beyond chance is counted as at its edge. */
function tamedVariance(
  ends: readonly { readonly squares: number; readonly df: number; readonly weight: number }[],
): number {
  const df = ends.reduce((sum, end) => sum + end.weight * end.df, 0);
  let variance = ends.reduce((sum, end) => sum + end.weight * end.squares, 0) / df;
  const edges = new Map(ends.map((end) => [end.df, chisquare.quantile(0.998, end.df)]));
  for (let round = 0; round < 5; round++) {
    const now = variance;
    variance =
      ends.reduce(
        (sum, end) => sum + end.weight * Math.min(end.squares, edges.get(end.df)! * now),
        0,
      ) / df;
  }
  return variance;
}

/** Posterior of the log of the ratio on a grid, from the first guess and the scatter of both kinds. */
function learnBareSpread(ends: readonly Aged[]): NonNullable<ArcherRecord['bareSpread']> {
  let [dfF, dfB, squaresF, squaresB] = [0, 0, 0, 0];
  for (const { weight, fletched, bare, squaresMrad2 } of ends) {
    if (bare < 2) continue;
    dfF += weight * 2 * (fletched - 1);
    dfB += weight * 2 * (bare - 1);
    squaresF += weight * squaresMrad2.fletched;
    squaresB += weight * squaresMrad2.bare;
  }
  if (dfB === 0 || squaresF + squaresB === 0) return { ...BARE_SPREAD_AT_FIRST };
  const { ratio, logSd } = BARE_SPREAD_AT_FIRST;
  const nodes = Array.from({ length: 161 }, (_, i) => {
    const z = i / 20 - 4;
    const log = Math.log(ratio) + logSd * z;
    const logWeight =
      -(z ** 2) / 2 -
      dfB * log -
      ((dfF + dfB) / 2) * Math.log(squaresF + squaresB / Math.exp(2 * log));
    return { log, logWeight };
  });
  const top = Math.max(...nodes.map((node) => node.logWeight));
  let [total, first, second] = [0, 0, 0];
  for (const { log, logWeight } of nodes) {
    const weight = Math.exp(logWeight - top);
    total += weight;
    first += weight * log;
    second += weight * log ** 2;
  }
  const mean = first / total;
  return { ratio: Math.exp(mean), logSd: Math.sqrt(Math.max(1e-6, second / total - mean ** 2)) };
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
