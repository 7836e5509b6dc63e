import gammaln from '@stdlib/math-base-special-gammaln';
import { kmeans } from 'ml-kmeans';
import { sharesOfLogs } from './shares-of-logs.ts';
import type { SpotMm } from '../face/coordinates.ts';
import type { ArcherRecord } from './archer-record.ts';
import { BARE_SPREAD_AT_FIRST, spreadPrior, type BareSpread } from './offset-posterior.ts';
import { scatterOf } from './scatter.ts';

export interface KindSuggestion {
  readonly kind: 'fletched' | 'bare';
  /** Probability that this mark is of that kind. */
  readonly probability: number;
}

/** One way to share the kinds out among marks. */
export interface WayToTag {
  /** Places of the bare shafts among the marks. */
  readonly bare: ReadonlySet<number>;
  readonly probability: number;
}

export interface SuggestKindsOptions {
  /** Arrows of each kind that were shot. Marks may be fewer (missed arrows) or more. */
  readonly fletched: number;
  readonly bare: number;
  readonly distanceM?: number | undefined;
  readonly record?: ArcherRecord | undefined;
  /** @default the record's, else BARE_SPREAD_AT_FIRST */
  readonly bareSpread?: BareSpread | undefined;
}

/**
 * How far apart the centres may be per axis before the shots are seen, in spreads, from bows tuned long
 * ago to new ones; each doubling six tenths as likely as the one before, as the states of tune are for
 * an archer of the usual spread (own judgement).
 */
const OFFSETS_IN_SPREADS = [0.175, 0.35, 0.7, 1.4, 2.8].map((spreads) => ({
  variance: spreads ** 2,
  logWeight: -0.75 * Math.log(spreads),
}));
/** How far from the middle a fletched group may be centred, mrad: the sight is set for it. */
const AIM_MRAD = 4;
/** Up to this many ways to share out the kinds, all are weighed. */
const ENUMERATE_AT_MOST = 30_000;

/**
 * Which marks are the bare shafts, from where they lie and how many of each were shot.
 *
 * Every way to share the kinds out is weighed by its marginal likelihood (round spread, bare wider by
 * a ratio, an offset as bows have it); k-means gives the start from which the best way is found when
 * there are too many to weigh, and its neighbours by one exchange then stand for the rest.
 * Deterministic. With equal counts and no distance the two labels are nearly interchangeable, and
 * the probabilities say so.
 */
export function suggestKinds(
  marks: readonly {
    readonly mm: SpotMm;
    /** Probability of a bare shaft by its looks (no vanes on a standing arrow). */
    readonly looksBare?: number | undefined;
  }[],
  options: SuggestKindsOptions,
): KindSuggestion[] {
  if (marks.length === 0) return [];
  const ways = waysToTag(marks, options);
  const best = ways[0]!.bare;
  return marks.map((_, i) => {
    const pBare = ways.reduce((sum, way) => sum + (way.bare.has(i) ? way.probability : 0), 0);
    return best.has(i)
      ? { kind: 'bare', probability: pBare }
      : { kind: 'fletched', probability: 1 - pBare };
  });
}

/** Every way that was weighed, the likeliest first. */
export function waysToTag(
  marks: Parameters<typeof suggestKinds>[0],
  options: SuggestKindsOptions,
): WayToTag[] {
  const n = marks.length;
  const counts = bareCounts(n, options);
  const ways = counts.reduce((sum, bare) => sum + Math.exp(logChoose(n, bare)), 0);
  const weigh = weigher(marks, options);
  const labelings =
    ways <= ENUMERATE_AT_MOST
      ? counts.flatMap((bare) => [...choices(n, bare)])
      : counts.flatMap((bare) => climb(marks, bare, weigh));

  const { shares } = sharesOfLogs(labelings.map(weigh));
  return labelings
    .map((bare, i) => ({ bare, probability: shares[i]! }))
    .sort((a, b) => b.probability - a.probability);
}

/** Numbers of bare shafts that may be among n marks. */
function bareCounts(n: number, { fletched, bare }: SuggestKindsOptions): number[] {
  const [low, high] =
    n <= fletched + bare
      ? [Math.max(0, n - fletched), Math.min(bare, n)]
      : [bare, Math.max(bare, n - fletched)];
  return Array.from({ length: high - low + 1 }, (_, i) => low + i);
}

function logChoose(n: number, k: number): number {
  return gammaln(n + 1) - gammaln(k + 1) - gammaln(n - k + 1);
}

type Weigh = (bare: ReadonlySet<number>) => number;

function weigher(marks: Parameters<typeof suggestKinds>[0], options: SuggestKindsOptions): Weigh {
  const { distanceM, record, bareSpread = record?.bareSpread ?? BARE_SPREAD_AT_FIRST } = options;
  const ratio2 = bareSpread.ratio ** 2;
  const prior = record && distanceM ? spreadPrior(record, distanceM) : null;
  const n = marks.length;
  return (bareSet) => {
    const bare = marks.filter((_, i) => bareSet.has(i)).map((mark) => mark.mm);
    const fletched = marks.filter((_, i) => !bareSet.has(i)).map((mark) => mark.mm);
    const b = bare.length > 0 ? scatterOf(bare) : null;
    const f = fletched.length > 0 ? scatterOf(fletched) : null;
    let squares = (prior ? prior.df * prior.sigmaMm ** 2 : 0) + 1e-6;
    let logWeight = 0;
    if (f) {
      squares += f.sumOfSquares;
      logWeight -= Math.log(f.n);
      if (distanceM) {
        const away = Math.hypot(f.mean[0], f.mean[1]) / (AIM_MRAD * distanceM);
        logWeight -= away ** 2 / 2;
      }
    }
    if (b) {
      squares += b.sumOfSquares / ratio2;
      logWeight -= Math.log(b.n) + (b.n - 1) * Math.log(ratio2);
    }
    const freedom = n - 1 + (prior?.df ?? 0) / 2;
    if (f && b) {
      const ofMeans = 1 / f.n + ratio2 / b.n;
      const apart2 = (b.mean[0] - f.mean[0]) ** 2 + (b.mean[1] - f.mean[1]) ** 2;
      const logs = OFFSETS_IN_SPREADS.map((offset) => {
        const variance = ofMeans + offset.variance;
        return (
          offset.logWeight - Math.log(variance) - freedom * Math.log(squares + apart2 / variance)
        );
      });
      const top = Math.max(...logs);
      logWeight += top + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - top), 0));
    } else {
      logWeight -= freedom * Math.log(squares);
    }
    logWeight += logPriorOfCount(n, bare.length, options);
    for (const [i, { looksBare }] of marks.entries()) {
      if (looksBare === undefined) continue;
      const p = Math.min(0.999, Math.max(0.001, looksBare));
      logWeight += Math.log(bareSet.has(i) ? p : 1 - p);
    }
    return logWeight;
  };
}

/** Of one labelling with this many bare shafts, when any of the arrows shot may be missing. */
function logPriorOfCount(n: number, bare: number, shot: SuggestKindsOptions): number {
  const missing = n <= shot.fletched + shot.bare;
  const logCount = missing ? logChoose(shot.fletched, n - bare) + logChoose(shot.bare, bare) : 0;
  return logCount - logChoose(n, bare);
}

/** All subsets of a size. */
function* choices(n: number, size: number, from = 0): Generator<Set<number>> {
  if (size === 0) {
    yield new Set();
    return;
  }
  for (let first = from; first <= n - size; first++) {
    for (const rest of choices(n, size - 1, first + 1)) yield rest.add(first);
  }
}

/** The best labelling by exchanges from a k-means start, with its neighbours by one exchange. */
function climb(
  marks: readonly { readonly mm: SpotMm }[],
  size: number,
  weigh: Weigh,
): Set<number>[] {
  if (size === 0) return [new Set()];
  const points = marks.map((mark) => [mark.mm[0], mark.mm[1]]);
  const { centroids } = kmeans(points, 2, { seed: 1 });
  const nearTo = (c: number[]) => (p: number[]) => Math.hypot(p[0]! - c[0]!, p[1]! - c[1]!);
  let best: Set<number> | null = null;
  for (const [own, other] of [
    [centroids[0]!, centroids[1]!],
    [centroids[1]!, centroids[0]!],
  ] as const) {
    const pull = points.map((p, i) => ({ i, by: nearTo(own)(p) - nearTo(other)(p) }));
    pull.sort((a, b) => a.by - b.by || a.i - b.i);
    let now = new Set(pull.slice(0, size).map(({ i }) => i));
    for (;;) {
      const next = exchanges(now, marks.length).reduce(
        (a, b) => (weigh(b) > weigh(a) ? b : a),
        now,
      );
      if (next === now) break;
      now = next;
    }
    if (best === null || weigh(now) > weigh(best)) best = now;
  }
  return [best!, ...exchanges(best!, marks.length)];
}

function exchanges(bare: ReadonlySet<number>, n: number): Set<number>[] {
  const result: Set<number>[] = [];
  for (const out of bare) {
    for (let into = 0; into < n; into++) {
      if (bare.has(into)) continue;
      const next = new Set(bare);
      next.delete(out);
      next.add(into);
      result.push(next);
    }
  }
  return result;
}
