import { sharesOfLogs } from '../../groups/shares-of-logs.ts';
import type { ArcherRecord } from '../../groups/archer-record.ts';
import type { AxisLaw } from './axis-law.ts';
import { blocksBy, lineSums, observeLines } from './gaussian-line.ts';
import type { ResponseEnd } from './response-ends.ts';
import type { Axis, Expected } from '../bow/parts.ts';
import type { Adjuster, Bow } from '../bow/set-up.ts';
import { slopePrior } from './slope-prior.ts';
import { bareRatioOf, possibleSpreads, type PossibleSpread } from './spreads.ts';
import { trustInEnds } from './trust-in-ends.ts';

/**
 * How far a session as a whole lies off the bow's own offset, standard deviation: wind, form, the
 * string of the day. Most archers and places are steady from day to day, some are not, and the log
 * shows which (own judgement).
 */
const SESSIONS = [
  { sdMrad: 0.4, weight: 4 },
  { sdMrad: 0.8, weight: 2 },
  { sdMrad: 1.6, weight: 1 },
] as const;
/**
 * How far the offset of the first end's settings may be from what is wanted, standard deviation per
 * axis: a bow that is in tune, one that drifted a little, one that wants trimming, one that was put
 * together today. A bow is tuned once and shot for long, so little lies between the first and the
 * third; less often in tune than a bow of which nothing is known, for who keeps a log of ends with
 * bare shafts is tuning (own judgement, by simulation).
 */
const STARTS = [
  { sdMrad: 0.15, weight: 1.5 },
  { sdMrad: 0.5, weight: 0.3 },
  { sdMrad: 1.5, weight: 1 },
  { sdMrad: 6, weight: 0.7 },
] as const;
/**
 * How often an adjuster works the other way round than its part usually does: mounted on the other
 * side, a sign mistaken, clicks counted backwards (own judgement).
 */
const WRONG_WAY = 0.05;
/** So many adjusters of an axis are doubted each by itself; the rest, of less effect, as a whole. */
const DOUBTED_AT_MOST = 3;
/** Parts that weigh less than this beside all others change nothing that anybody sees. */
const NEGLIGIBLE = 1e-5;

export interface ResponseModel {
  readonly axes: Readonly<Record<Axis, AxisResponse>>;
  /** Log of the density that the model gave to the ends' offsets, up to a constant of the same arrows. */
  readonly logEvidence: number;
  readonly ends: readonly ResponseEnd[];
}

/** Offset of one axis, mrad, as a linear function of the adjusters' amounts. */
export interface AxisResponse {
  /** Adjusters whose amounts differed between ends or from now, in the order of the coefficients. */
  readonly moved: readonly string[];
  /** Amounts now less those of the first end, of the adjusters in `moved`. */
  readonly present: readonly number[];
  /** Slopes of the adjusters that no end tells of: what is expected of their parts. */
  readonly unmoved: Readonly<Record<string, Expected>>;
  /**
   * Normal laws of the coefficients, the offset at the first end's settings and the slopes: one for
   * each spread, restlessness of sessions, state of tune and set of adjusters that work the other way
   * round. Weights sum to 1.
   */
  readonly states: readonly ResponseState[];
  /** Mean and covariance of the coefficients over all states. */
  readonly mean: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  /** By end: 1, or less for a wild one. */
  readonly trust: readonly number[];
}

interface ResponseState {
  readonly weight: number;
  readonly mean: readonly number[];
  readonly covariance: readonly (readonly number[])[];
}

export interface ResponseOptions {
  readonly present: Readonly<Record<string, number>>;
  /** What the bow is tuned to, mrad: where its first offset is expected about. @default [0, 0] */
  readonly preferredMrad?: readonly [number, number] | undefined;
  readonly record?: ArcherRecord | undefined;
}

/** Mean and standard deviation of what is known of a number. */
export interface Moments {
  readonly mean: number;
  readonly sd: number;
}

/**
 * A bow's response by a Bayesian linear model: for each axis the offset at the settings of the first
 * end, a slope per adjuster with the mechanics as prior, and a level of its own per session. How wide
 * the archer shoots, from what state of tune the bow started, how restless sessions are and which
 * adjusters work the other way round are not known either: the answer is a mixture over them, weighed
 * by how well each foretells the ends. The first three are common to both axes, so that an axis that
 * is plainly off speaks for a bow that is out of tune. Ends are weighted by their numbers of arrows;
 * a wild end is trusted less.
 */
export function responseModel(
  bow: Bow,
  ends: readonly ResponseEnd[],
  options: ResponseOptions,
): ResponseModel {
  const ratio = bareRatioOf(ends, options.record);
  const suppositions = suppositionsOf(possibleSpreads(ends, ratio, options.record));
  const given = { ...options, ratio, suppositions };
  const across = axisStates(bow, ends, 'horizontal', given);
  const up = axisStates(bow, ends, 'vertical', given);
  const logs = suppositions.map(({ log }, i) => log + across.evidence[i]! + up.evidence[i]!);
  const { shares, logTotal } = sharesOfLogs(logs);
  return {
    axes: { horizontal: weigh(across, shares), vertical: weigh(up, shares) },
    logEvidence: logTotal,
    ends,
  };
}

/** The lasting offset at the present settings, mrad: without the session's own level. */
export function presentLaw(axis: AxisResponse): AxisLaw {
  return lawOf(axis, [1, ...axis.present], null);
}

/** The same as mean and standard deviation. */
export function presentOffset(axis: AxisResponse): Moments {
  const { mean, variance } = momentsOf(axis, [1, ...axis.present]);
  return { mean, sd: Math.sqrt(variance) };
}

/** The offset after a change of one adjuster, mrad. */
export function lawAfter(axis: AxisResponse, adjusterId: string, change: number): AxisLaw {
  return lawOf(axis, rowAfter(axis, adjusterId, change), fresh(axis, adjusterId, change));
}

/** Mean and variance of the offset by the change of one adjuster, mrad and mrad2. */
export function offsetByChange(
  axis: AxisResponse,
  adjusterId: string,
): (change: number) => { readonly mean: number; readonly variance: number } {
  return (change) => {
    const after = momentsOf(axis, rowAfter(axis, adjusterId, change));
    const own = fresh(axis, adjusterId, change);
    return own ? { mean: after.mean + own.mean, variance: after.variance + own.sd ** 2 } : after;
  };
}

/** The slope of an adjuster, mrad per unit of amount; null when the model has none for it. */
export function slopeLaw(axis: AxisResponse, adjusterId: string): AxisLaw | null {
  const place = axis.moved.indexOf(adjusterId);
  if (place >= 0) return lawOf(axis, unit(axis, place), null);
  const own = fresh(axis, adjusterId, 1);
  return own && { parts: [{ weight: 1, law: { mean: own.mean, scale: own.sd, df: Infinity } }] };
}

/** The same as mean and standard deviation. */
export function slopeOf(axis: AxisResponse, adjusterId: string): Moments | null {
  const place = axis.moved.indexOf(adjusterId);
  if (place < 0) return fresh(axis, adjusterId, 1);
  const { mean, variance } = momentsOf(axis, unit(axis, place));
  return { mean, sd: Math.sqrt(variance) };
}

function unit({ moved }: AxisResponse, place: number): number[] {
  return [0, ...moved.map((_, i) => (i === place ? 1 : 0))];
}

function rowAfter({ moved, present }: AxisResponse, adjusterId: string, change: number): number[] {
  const place = moved.indexOf(adjusterId);
  return [1, ...present.map((amount, i) => (i === place ? amount + change : amount))];
}

/** What the change of an adjuster adds that no end tells of; null of one that the ends do tell of. */
function fresh({ unmoved }: AxisResponse, adjusterId: string, change: number): Moments | null {
  const slope = unmoved[adjusterId];
  return slope ? { mean: slope.mean * change, sd: slope.sd * Math.abs(change) } : null;
}

/** Of a combination of the coefficients, and what is added by itself. */
function lawOf({ states }: AxisResponse, row: readonly number[], added: Moments | null): AxisLaw {
  return {
    parts: states.map(({ weight, ...state }) => {
      const { mean, variance } = momentsOf(state, row);
      const own = added ?? { mean: 0, sd: 0 };
      const scale = Math.sqrt(variance + own.sd ** 2);
      return { weight, law: { mean: mean + own.mean, scale, df: Infinity } };
    }),
  };
}

function momentsOf(
  { mean, covariance }: Pick<AxisResponse, 'mean' | 'covariance'>,
  row: readonly number[],
): { mean: number; variance: number } {
  let [at, variance] = [0, 0];
  for (let i = 0; i < row.length; i++) {
    at += row[i]! * mean[i]!;
    for (let j = 0; j < row.length; j++) variance += row[i]! * covariance[i]![j]! * row[j]!;
  }
  return { mean: at, variance: Math.max(0, variance) };
}

/** What may hold for both axes, and the log of how likely that is before the ends' offsets. */
interface Supposition {
  readonly sigmaMrad: number;
  readonly sessionSd: number;
  readonly startSd: number;
  readonly log: number;
}

function suppositionsOf(spreads: readonly PossibleSpread[]): Supposition[] {
  return spreads.flatMap(({ sigmaMrad, log }) =>
    SESSIONS.flatMap(({ sdMrad: sessionSd, weight: ofSession }) =>
      STARTS.map(({ sdMrad: startSd, weight }) => ({
        sigmaMrad,
        sessionSd,
        startSd,
        log: log + Math.log(ofSession) + Math.log(weight),
      })),
    ),
  );
}

interface AxisStates {
  readonly axis: Pick<AxisResponse, 'moved' | 'present' | 'unmoved' | 'trust'>;
  /** By supposition: log of the density that it gives to the ends' offsets on this axis. */
  readonly evidence: readonly number[];
  /** By supposition, worked out when asked for; weights sum to 1 within each. */
  readonly states: readonly (() => ResponseState[])[];
}

function axisStates(
  bow: Bow,
  ends: readonly ResponseEnd[],
  axis: Axis,
  given: ResponseOptions & {
    readonly ratio: number;
    readonly suppositions: readonly Supposition[];
  },
): AxisStates {
  const { present, preferredMrad = [0, 0], ratio, suppositions } = given;
  const component = axis === 'horizontal' ? 0 : 1;
  const wanted = preferredMrad[component];
  const first = ends[0]?.amounts ?? present;
  const changeOf = (amounts: Readonly<Record<string, number>>, id: string) =>
    (amounts[id] ?? present[id]!) - (first[id] ?? present[id]!);
  const known = bow.adjusters.filter(({ id }) => present[id] !== undefined);
  const isMoved = ({ id }: Adjuster) =>
    changeOf(present, id) !== 0 || ends.some((end) => changeOf(end.amounts, id) !== 0);
  const moved = known.filter(isMoved);
  const slopes = moved.map((adjuster) => slopePrior(adjuster, axis, bow.hand));

  const rows = ends.map((end) => [1, ...moved.map(({ id }) => changeOf(end.amounts, id))]);
  const y = ends.map((end) => end.offsetMrad[component] - wanted);
  const weights = ends.map((end) => 1 / (1 / end.fletched + ratio ** 2 / end.bare));
  const sessionOf = ends.map((end) => end.sessionId);
  const middle = suppositions[Math.floor(suppositions.length / 2)]!.sigmaMrad;
  const trust = trustInEnds(rows, y, {
    precisions: weights.map((weight) => weight / middle ** 2),
    sessionOf,
    // Whatever may be taken for far off, restless or the other way round is not wild.
    sessionSd: widestOf(SESSIONS),
    priorSds: [widestOf(STARTS), ...slopes.map(({ mean, sd }) => Math.hypot(mean, sd))],
  });
  const blocks = blocksBy(sessionOf);
  const ways = waysRound(slopes, rows);
  const sums = new Map<string, ReturnType<typeof lineSums>>();
  const evidence: number[] = [];
  const states = suppositions.map(({ sigmaMrad, sessionSd, startSd }) => {
    const key = `${sigmaMrad} ${sessionSd}`;
    if (!sums.has(key)) {
      const precisions = weights.map((weight, i) => (weight * trust[i]!) / sigmaMrad ** 2);
      const shape = { blockVariance: sessionSd ** 2, size: slopes.length + 1 };
      sums.set(key, lineSums({ rows, y, precisions }, blocks, shape));
    }
    const { covariance, lines } = observeLines(
      [startSd, ...ways.sds],
      ways.means.map((means) => [0, ...means]),
      sums.get(key)!,
    );
    const logs = lines.map(({ logEvidence }, i) => ways.logs[i]! + logEvidence);
    const { shares, logTotal } = sharesOfLogs(logs);
    evidence.push(logTotal);
    return () =>
      lines.map(({ mean }, i) => ({
        weight: shares[i]!,
        mean: [mean[0]! + wanted, ...mean.slice(1)],
        covariance,
      }));
  });
  const unmoved = known
    .filter((adjuster) => !isMoved(adjuster))
    .map((adjuster) => [adjuster.id, doubted(slopePrior(adjuster, axis, bow.hand))] as const);
  return {
    axis: {
      moved: moved.map(({ id }) => id),
      present: moved.map(({ id }) => changeOf(present, id)),
      unmoved: Object.fromEntries(unmoved),
      trust,
    },
    evidence,
    states,
  };
}

/** The states of one axis, weighed by how likely each supposition is by both. */
function weigh({ axis, states }: AxisStates, shares: readonly number[]): AxisResponse {
  const kept: ResponseState[] = [];
  states.forEach((ofOne, i) => {
    if (shares[i]! < NEGLIGIBLE) return;
    for (const state of ofOne()) {
      const weight = state.weight * shares[i]!;
      if (weight > NEGLIGIBLE) kept.push({ ...state, weight });
    }
  });
  const total = kept.reduce((sum, { weight }) => sum + weight, 0);
  const weighed = kept.map((state) => ({ ...state, weight: state.weight / total }));
  const size = weighed[0]!.mean.length;
  const mean = Array<number>(size).fill(0);
  const covariance = mean.map(() => Array<number>(size).fill(0));
  for (const one of weighed) {
    for (let i = 0; i < size; i++) mean[i] = mean[i]! + one.weight * one.mean[i]!;
  }
  for (const one of weighed) {
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < size; j++) {
        const apart = (one.mean[i]! - mean[i]!) * (one.mean[j]! - mean[j]!);
        covariance[i]![j] = covariance[i]![j]! + one.weight * (one.covariance[i]![j]! + apart);
      }
    }
  }
  return { ...axis, states: weighed, mean, covariance };
}

interface WaysRound {
  /** Of the slopes before, the same whichever way round. */
  readonly sds: readonly number[];
  /** By way: expected slopes, and log of its probability before. */
  readonly means: readonly (readonly number[])[];
  readonly logs: readonly number[];
}

/** Every set of adjusters that may work the other way round, with the slopes expected then. */
function waysRound(slopes: readonly Expected[], rows: readonly (readonly number[])[]): WaysRound {
  const effects = slopes.map(({ mean }, i) => {
    const amounts = rows.map((row) => row[i + 1]!);
    return Math.abs(mean) * (Math.max(0, ...amounts) - Math.min(0, ...amounts));
  });
  const inDoubt = slopes
    .map((_, i) => i)
    .filter((i) => slopes[i]!.mean !== 0)
    .sort((a, b) => effects[b]! - effects[a]!)
    .slice(0, DOUBTED_AT_MOST);
  const base = slopes.map((slope, i) => (inDoubt.includes(i) ? slope : doubted(slope)));
  const turned = Array.from({ length: 2 ** inDoubt.length }, (_, bits) =>
    slopes.map((__, i) => inDoubt.includes(i) && ((bits >> inDoubt.indexOf(i)) & 1) === 1),
  );
  return {
    sds: base.map(({ sd }) => sd),
    means: turned.map((way) => base.map(({ mean }, i) => (way[i] ? -mean : mean))),
    logs: turned.map((way) => {
      const count = way.filter(Boolean).length;
      return count * Math.log(WRONG_WAY) + (inDoubt.length - count) * Math.log(1 - WRONG_WAY);
    }),
  };
}

/** A slope that may be turned round, as one normal of the same mean and variance. */
function doubted({ mean, sd }: Expected): Expected {
  return {
    mean: (1 - 2 * WRONG_WAY) * mean,
    sd: Math.hypot(sd, 2 * Math.sqrt(WRONG_WAY * (1 - WRONG_WAY)) * mean),
  };
}

function widestOf(priors: readonly { readonly sdMrad: number }[]): number {
  return Math.max(...priors.map(({ sdMrad }) => sdMrad));
}
