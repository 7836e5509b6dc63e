import type { ArcherRecord } from '../../groups/archer-record.ts';
import { BARE_SPREAD_AT_FIRST, spreadPrior } from '../../groups/offset-posterior.ts';
import { meanOf, type AxisLaw } from './axis-law.ts';
import {
  combination,
  logEvidence,
  unitCovariance,
  updateNormalInverseGamma,
  type NormalInverseGamma,
  type StudentT,
  type WeightedObservation,
} from './normal-inverse-gamma.ts';
import type { ResponseEnd } from './response-ends.ts';
import type { Axis } from '../bow/parts.ts';
import type { Bow } from '../bow/set-up.ts';
import { slopePrior } from './slope-prior.ts';
import { SPREAD_AT_FIRST_CONJUGATE } from './spread-at-first.ts';
import { STATES_OF_TUNE } from './state-of-tune.ts';

/**
 * How far a session as a whole lies off the bow's own offset, standard deviation: wind, form, the
 * string of the day. Most archers and places are steady from day to day, some are not, and the log
 * shows which (own judgement).
 */
const SESSIONS = [
  { sdMrad: 0.4, weight: 2 },
  { sdMrad: 0.8, weight: 1 },
] as const;
/** An end further out than this, in standard deviations of what the others foretell, counts less. */
const WILD_FROM = 2.5;

export interface ResponseModel {
  readonly axes: Readonly<Record<Axis, AxisResponse>>;
  readonly ends: readonly ResponseEnd[];
}

/** Offset of one axis, mrad, as a linear function of the adjusters' amounts. */
export interface AxisResponse {
  /** Combination of the coefficients that is the lasting offset at the present settings. */
  readonly present: readonly number[];
  /** Adjusters with a slope, in the order of the coefficients after the first. */
  readonly adjusterIds: readonly string[];
  /**
   * One conjugate law for each state of tune that the bow may have started from, and for steady and
   * restless sessions.
   */
  readonly states: readonly {
    readonly weight: number;
    readonly law: NormalInverseGamma;
    readonly covariance: readonly (readonly number[])[];
  }[];
  /** By end: 1, or less for a wild one. */
  readonly trust: readonly number[];
}

export interface ResponseOptions {
  readonly present: Readonly<Record<string, number>>;
  /** What the bow is tuned to, mrad: where its first offset is expected about. @default [0, 0] */
  readonly preferredMrad?: readonly [number, number] | undefined;
  readonly record?: ArcherRecord | undefined;
}

/**
 * A bow's response by a conjugate Bayesian linear model for each axis: the offset at the settings
 * of the first end (weighed over the states of tune it may have been in), a slope per adjuster with
 * the mechanics as prior, and a random level per session (weighed over how much sessions may differ).
 * Ends are weighted by their numbers of
 * arrows; the scatter within the ends, and the archer's record, tell the noise, and a wild end is
 * trusted less.
 */
export function responseModel(
  bow: Bow,
  ends: readonly ResponseEnd[],
  options: ResponseOptions,
): ResponseModel {
  return {
    axes: {
      horizontal: axisResponse(bow, ends, 'horizontal', options),
      vertical: axisResponse(bow, ends, 'vertical', options),
    },
    ends,
  };
}

/** The lasting offset at the present settings, mrad: without the session's own level. */
export function presentLaw(axis: AxisResponse): AxisLaw {
  return lawOf(axis, axis.present);
}

/** The lasting offset at the present settings as one Student t, mrad. */
export function presentOffset(axis: AxisResponse): StudentT {
  return combined(axis, axis.present);
}

/** The slope of an adjuster, mrad per unit of amount; null when the model has none for it. */
export function slopeOf(axis: AxisResponse, adjusterId: string): StudentT | null {
  const place = axis.adjusterIds.indexOf(adjusterId);
  return place < 0 ? null : combined(axis, unit(axis.present.length, place + 1));
}

/** The offset after a change of one adjuster, mrad. */
export function offsetAfter(axis: AxisResponse, adjusterId: string, change: number): StudentT {
  const x = [...axis.present];
  const place = axis.adjusterIds.indexOf(adjusterId);
  if (place >= 0) x[place + 1] = x[place + 1]! + change;
  return combined(axis, x);
}

/** Of a combination of the coefficients, over the states of tune. */
function lawOf({ states }: AxisResponse, x: readonly number[]): AxisLaw {
  return {
    parts: states.map(({ weight, law, covariance }) => ({
      weight,
      law: combination(law, covariance, x),
    })),
  };
}

/** The same as one Student t of that mean and variance. */
function combined(axis: AxisResponse, x: readonly number[]): StudentT {
  const { parts } = lawOf(axis, x);
  const mean = meanOf({ parts });
  const square = parts.reduce(
    (sum, { weight, law }) => sum + weight * (law.scale ** 2 + (law.mean - mean) ** 2),
    0,
  );
  return { mean, scale: Math.sqrt(square), df: parts[0]!.law.df };
}

function unit(size: number, place: number): number[] {
  return Array.from({ length: size }, (_, i) => (i === place ? 1 : 0));
}

function axisResponse(
  bow: Bow,
  ends: readonly ResponseEnd[],
  axis: Axis,
  { present, preferredMrad = [0, 0], record }: ResponseOptions,
): AxisResponse {
  const ratio = (record?.bareSpread ?? BARE_SPREAD_AT_FIRST).ratio;
  const spread = noise(ends, ratio, record);
  const adjusters = bow.adjusters.filter(({ id }) => present[id] !== undefined);
  const first = ends[0]?.amounts ?? present;
  const component = axis === 'horizontal' ? 0 : 1;
  const sessions = [...new Set(ends.map((end) => end.sessionId))];
  const slopes = adjusters.map((adjuster) => slopePrior(adjuster, axis, bow.hand));
  const variance = spread.rate / spread.shape;
  const priorOf = (startSd: number, sessionSd: number): NormalInverseGamma => {
    const priors = [
      { mean: preferredMrad[component], sd: startSd },
      ...slopes,
      ...sessions.map(() => ({ mean: 0, sd: sessionSd })),
    ];
    return {
      mean: priors.map(({ mean }) => mean),
      precision: priors.map(({ sd }, i) =>
        priors.map((_, j) => (i === j ? variance / sd ** 2 : 0)),
      ),
      ...spread,
    };
  };
  const observations = ends.map((end): WeightedObservation => ({
    x: [
      1,
      ...adjusters.map(({ id }) => (end.amounts[id] ?? present[id]!) - (first[id] ?? present[id]!)),
      ...sessions.map((session) => (session === end.sessionId ? 1 : 0)),
    ],
    y: end.offsetMrad[component],
    weight: 1 / (1 / end.fletched + ratio ** 2 / end.bare),
  }));
  // The widest prior judges which ends are wild, for it takes none for wild that is only far off.
  const trust = trustIn(priorOf(widestOf(STATES_OF_TUNE), widestOf(SESSIONS)), observations);
  const trusted = observations.map((one, i) => ({ ...one, weight: one.weight * trust[i]! }));
  // States of tune are equally likely here: who keeps a log of ends with bare shafts is tuning, so the bow may be far off.
  const states = STATES_OF_TUNE.flatMap((start) =>
    SESSIONS.map((session) => {
      const prior = priorOf(start.sdMrad, session.sdMrad);
      const law = updateNormalInverseGamma(prior, trusted);
      const log = logEvidence(prior, law, trusted) + Math.log(session.weight);
      return { law, covariance: unitCovariance(law), log };
    }),
  );
  const top = Math.max(...states.map(({ log }) => log));
  const total = states.reduce((sum, { log }) => sum + Math.exp(log - top), 0);
  return {
    present: [
      1,
      ...adjusters.map(({ id }) => present[id]! - (first[id] ?? present[id]!)),
      ...sessions.map(() => 0),
    ],
    adjusterIds: adjusters.map(({ id }) => id),
    states: states.map(({ law, covariance, log }) => ({
      weight: Math.exp(log - top) / total,
      law,
      covariance,
    })),
    trust,
  };
}

function widestOf(priors: readonly { readonly sdMrad: number }[]): number {
  return Math.max(...priors.map(({ sdMrad }) => sdMrad));
}

/** What the record and the scatter within the ends say of the variance per axis. */
function noise(
  ends: readonly ResponseEnd[],
  ratio: number,
  record: ArcherRecord | undefined,
): { shape: number; rate: number } {
  const known = record ? spreadPrior(record, 1) : null;
  const { sigma, df } = known
    ? { sigma: known.sigmaMm, df: known.df }
    : { sigma: SPREAD_AT_FIRST_CONJUGATE.sigmaMrad, df: SPREAD_AT_FIRST_CONJUGATE.df };
  let shape = df / 2;
  let rate = (df * sigma ** 2) / 2;
  for (const { fletched, bare, squaresMrad2 } of ends) {
    shape += fletched + bare - 2;
    rate += (squaresMrad2.fletched + squaresMrad2.bare / ratio ** 2) / 2;
  }
  return { shape, rate };
}

/**
 * Reweighs each end by how far it is from what all the others foretell, until the weights rest.
 * Within WILD_FROM nothing is reweighed, so ends of an ordinary day keep the exact conjugate law.
 */
function trustIn(
  prior: NormalInverseGamma,
  observations: readonly WeightedObservation[],
): number[] {
  let trust = observations.map(() => 1);
  let law = updateNormalInverseGamma(prior, observations);
  for (let round = 0; round < 10; round++) {
    const covariance = unitCovariance(law);
    const next = observations.map((observation, i) => {
      const { x, y } = observation;
      const weight = observation.weight * trust[i]!;
      const fitted = combination(law, covariance, x);
      const leverage = (weight * fitted.scale ** 2 * law.shape) / law.rate;
      const left = Math.max(1e-9, 1 - leverage);
      // Residual and its variance as if this end had not been fitted, at its full weight.
      const residual = (y - fitted.mean) / left;
      const variance = (law.rate / law.shape) * (1 / observation.weight + leverage / left / weight);
      const out = Math.abs(residual) / Math.sqrt(variance);
      return out > WILD_FROM ? (WILD_FROM / out) ** 2 : 1;
    });
    const moved = next.some((value, i) => Math.abs(value - trust[i]!) > 1e-3);
    trust = next;
    if (!moved) break;
    law = updateNormalInverseGamma(
      prior,
      observations.map((one, i) => ({ ...one, weight: one.weight * trust[i]! })),
    );
  }
  return trust;
}
