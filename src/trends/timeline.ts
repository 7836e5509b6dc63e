import { sharesOfLogs } from '../groups/shares-of-logs.ts';
import { BARE_SPREAD_AT_FIRST } from '../groups/offset-posterior.ts';
import { ANY_RATIO, MATCHING_DF } from '../groups/offset-region.ts';
import type { Scoring } from '../face/scoring.ts';
import { centralInterval } from '../tuning/response/axis-law.ts';
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
 * The mean offset of a session. Neither how wide it was shot nor how much wider the bare shafts scatter is known: a
 * mixture over the latter of Student's t, each weighed by how well it fits the scatter of both kinds, with the
 * priors of a single end's region. Null where nothing tells the spread.
 */
function offsetOf(ends: readonly TrendEnd[]): TimelinePoint['offset'] {
  const told = ends.filter(({ fletched, bare }) => fletched + bare > 0);
  const sums = { fletched: { squares: 0, df: 0 }, bare: { squares: 0, df: 0 } };
  for (const end of told) {
    for (const kind of ['fletched', 'bare'] as const) {
      sums[kind].squares += end.squaresMrad2[kind];
      sums[kind].df += 2 * Math.max(0, end[kind] - 1);
    }
  }
  const { fletched: f, bare: b } = sums;
  if (f.df + b.df === 0 || f.squares + b.squares === 0) return null;
  // Where one kind never tells its spread, what is usual has to.
  const isOpen = f.df > 0 && b.df > 0;
  const usual = isOpen ? ANY_RATIO : BARE_SPREAD_AT_FIRST;
  const df = f.df + b.df + (isOpen ? MATCHING_DF : 0);
  const steps = Math.ceil((2 * FARTHEST * usual.logSd) / RATIOS_APART);
  const nodes = Array.from({ length: steps + 1 }, (_, i) => {
    const z = FARTHEST * ((2 * i) / steps - 1);
    const ratio = usual.ratio * Math.exp(usual.logSd * z);
    const squares = f.squares + b.squares / ratio ** 2;
    let weights = 0;
    const sum: [number, number] = [0, 0];
    for (const { offsetMrad, fletched, bare } of told) {
      if (!offsetMrad) continue;
      const weight = 1 / (1 / fletched + ratio ** 2 / bare);
      weights += weight;
      sum[0] += weight * offsetMrad[0];
      sum[1] += weight * offsetMrad[1];
    }
    return {
      mean: [sum[0] / weights, sum[1] / weights] as const,
      scale: Math.sqrt(squares / df / weights),
      log: -(z ** 2) / 2 - b.df * Math.log(ratio) - (df / 2) * Math.log(squares),
      weights,
    };
  });
  if (nodes[0]!.weights === 0) return null;
  const { shares } = sharesOfLogs(nodes.map(({ log }) => log));
  const on = (axis: 0 | 1) => nodes.reduce((sum, { mean }, i) => sum + shares[i]! * mean[axis], 0);
  const [low, high] = centralInterval(
    {
      parts: nodes.flatMap(({ scale }, i) =>
        shares[i]! < NEGLIGIBLE ? [] : [{ weight: shares[i]!, law: { mean: 0, scale, df } }],
      ),
    },
    0.9,
  );
  return { mrad: [on(0), on(1)], half90Mrad: (high - low) / 2 };
}

/** Ratios are looked at so far from the usual one, in standard deviations of its log, and this close together. */
const FARTHEST = 3;
const RATIOS_APART = 0.25;
/** What is less likely changes nothing that anybody sees. */
const NEGLIGIBLE = 1e-3;
