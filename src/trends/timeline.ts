import student from '@stdlib/stats-base-dists-t';
import { BARE_SPREAD_AT_FIRST } from '../groups/offset-posterior.ts';
import type { Scoring } from '../face/scoring.ts';
import { pooledSpread, type PooledSpread } from './pooled-spread.ts';
import { isMeasured, type ScoredEnd, type TrendEnd } from './trend-ends.ts';

export interface TimelinePoint {
  readonly sessionId: string;
  /** By which rule the average is. */
  readonly scoring: Scoring;
  /** Of its first end. */
  readonly at: string;
  /** Null where nobody said: then there is neither spread nor offset. */
  readonly distanceM: number | null;
  readonly arrows: number;
  /** Points an arrow, misses as 0; null without scored arrows. */
  readonly average: number | null;
  readonly misses: number;
  /** Fletched spread per axis with its 90 % interval; null below two arrows in every end. */
  readonly spread: PooledSpread | null;
  /** Mean offset of the session with the half-width of its 90 % interval per axis. */
  readonly offset: { readonly mrad: [number, number]; readonly half90Mrad: number } | null;
  readonly setUpIds: readonly string[];
}

export interface Timeline {
  readonly points: readonly TimelinePoint[];
  /** When another set-up was first shot than the end before. */
  readonly changes: readonly { readonly at: string; readonly from: string; readonly to: string }[];
}

/** Spread, offset and average of each session in the order of time, and the changes of set-up. */
export function timeline(ends: readonly (ScoredEnd | TrendEnd)[]): Timeline {
  const inOrder = [...ends].sort((a, b) => Date.parse(a.shotAt) - Date.parse(b.shotAt));
  const sessions = new Map<string, (ScoredEnd | TrendEnd)[]>();
  const changes: Timeline['changes'][number][] = [];
  let last: string | null = null;
  for (const end of inOrder) {
    const key = `${end.sessionId} ${end.distanceM} ${end.scoring}`;
    sessions.set(key, [...(sessions.get(key) ?? []), end]);
    if (last !== null && last !== end.setUpId) {
      changes.push({ at: end.shotAt, from: last, to: end.setUpId });
    }
    last = end.setUpId;
  }
  return { points: [...sessions.values()].map(pointOf), changes };
}

function pointOf(ends: readonly (ScoredEnd | TrendEnd)[]): TimelinePoint {
  const first = ends[0]!;
  const values = ends.flatMap((end) => end.values);
  const measured = ends.filter(isMeasured);
  const spread = pooledSpread(measured);
  return {
    sessionId: first.sessionId,
    scoring: first.scoring,
    at: first.shotAt,
    distanceM: first.distanceM,
    arrows: values.length,
    average: values.length > 0 ? values.reduce((sum, v) => sum + v, 0) / values.length : null,
    misses: ends.reduce((sum, end) => sum + end.misses, 0),
    spread,
    offset: offsetOf(measured),
    setUpIds: [...new Set(ends.map((end) => end.setUpId))],
  };
}

/**
 * The mean offset of a session. How wide it was shot is estimated from the scatter of both kinds, so
 * the interval is of Student's t; null where nothing tells it.
 */
function offsetOf(ends: readonly TrendEnd[]): TimelinePoint['offset'] {
  const { ratio } = BARE_SPREAD_AT_FIRST;
  let [weights, squares, df] = [0, 0, 0];
  const sum: [number, number] = [0, 0];
  for (const { offsetMrad, fletched, bare, squaresMrad2 } of ends) {
    squares += squaresMrad2.fletched + squaresMrad2.bare / ratio ** 2;
    df += 2 * (Math.max(0, fletched - 1) + Math.max(0, bare - 1));
    if (!offsetMrad) continue;
    const weight = 1 / (1 / fletched + ratio ** 2 / bare);
    weights += weight;
    sum[0] += weight * offsetMrad[0];
    sum[1] += weight * offsetMrad[1];
  }
  if (weights === 0 || df === 0 || squares === 0) return null;
  return {
    mrad: [sum[0] / weights, sum[1] / weights],
    half90Mrad: student.quantile(0.95, df) * Math.sqrt(squares / df / weights),
  };
}
