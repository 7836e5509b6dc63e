import type { ArcherRecord } from '../groups/archer-record.ts';
import { BARE_SPREAD_AT_FIRST, spreadPrior } from '../groups/offset-posterior.ts';
import { BOW_OFFSET_MRAD } from './axis-verdict.ts';
import {
  combination,
  unitCovariance,
  updateNormalInverseGamma,
  type NormalInverseGamma,
  type StudentT,
  type WeightedObservation,
} from './normal-inverse-gamma.ts';
import type { ResponseEnd } from './response-ends.ts';
import type { Bow } from './set-up.ts';
import { slopePrior, type Axis } from './slope-prior.ts';

/** How far a session as a whole lies off the bow's own offset: wind, form, the string of the day. */
const SESSION_SD_MRAD = 0.5;
/** Spread per axis before any record, and how many degrees of freedom that guess is worth. */
const SPREAD_AT_FIRST = { sigmaMrad: 2, df: 2 };
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
  readonly law: NormalInverseGamma;
  readonly covariance: readonly (readonly number[])[];
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
 * of the first end, a slope per adjuster with the mechanics as prior, and a random level per session. Ends
 * are weighted by their numbers of arrows; the scatter within the ends, and the archer's record,
 * tell the noise, and a wild end is trusted less.
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
export function presentOffset({ law, covariance, present }: AxisResponse): StudentT {
  return combination(law, covariance, present);
}

/** The slope of an adjuster, mrad per unit of amount; null when the model has none for it. */
export function slopeOf(axis: AxisResponse, adjusterId: string): StudentT | null {
  const place = axis.adjusterIds.indexOf(adjusterId);
  if (place < 0) return null;
  return combination(axis.law, axis.covariance, unit(axis.law.mean.length, place + 1));
}

/** The offset after a change of one adjuster, mrad. */
export function offsetAfter(axis: AxisResponse, adjusterId: string, change: number): StudentT {
  const x = [...axis.present];
  const place = axis.adjusterIds.indexOf(adjusterId);
  if (place >= 0) x[place + 1] = x[place + 1]! + change;
  return combination(axis.law, axis.covariance, x);
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
  const priors = [
    { mean: preferredMrad[component], sd: BOW_OFFSET_MRAD },
    ...adjusters.map((adjuster) => slopePrior(adjuster, axis, bow.hand)),
    ...sessions.map(() => ({ mean: 0, sd: SESSION_SD_MRAD })),
  ];
  const variance = spread.rate / spread.shape;
  const prior: NormalInverseGamma = {
    mean: priors.map(({ mean }) => mean),
    precision: priors.map(({ sd }, i) => priors.map((_, j) => (i === j ? variance / sd ** 2 : 0))),
    ...spread,
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
  const { law, trust } = robustly(prior, observations);
  return {
    present: [
      1,
      ...adjusters.map(({ id }) => present[id]! - (first[id] ?? present[id]!)),
      ...sessions.map(() => 0),
    ],
    adjusterIds: adjusters.map(({ id }) => id),
    law,
    covariance: unitCovariance(law),
    trust,
  };
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
    : { sigma: SPREAD_AT_FIRST.sigmaMrad, df: SPREAD_AT_FIRST.df };
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
function robustly(
  prior: NormalInverseGamma,
  observations: readonly WeightedObservation[],
): { law: NormalInverseGamma; trust: number[] } {
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
  return { law, trust };
}
