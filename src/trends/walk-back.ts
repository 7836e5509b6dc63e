import { sharesOfLogs } from '../groups/shares-of-logs.ts';
import { ENGLISH, type Words } from '../words/words.ts';
import {
  centralInterval,
  massAboveValue,
  meanOf,
  type AxisLaw,
} from '../tuning/response/axis-law.ts';
import { blocksBy, lineSums } from '../tuning/response/gaussian-line.ts';
import { SPREAD_AT_FIRST } from '../tuning/response/spread-at-first.ts';
import { tooFewDistances } from './enough-distances.ts';
import { lineMixture } from './line-mixture.ts';
import { pooledSquares } from './pooled-spread.ts';
import type { TrendEnd } from './trend-ends.ts';

export interface WalkBack {
  /** Fletched centres at each distance, mm from the aim, with the standard error per axis. */
  readonly points: readonly {
    readonly distanceM: number;
    readonly mm: [number, number];
    readonly seMm: number;
    readonly arrows: number;
  }[];
  /** How far the impacts drift sideways per metre, mm (an angle in mrad); null at too few distances. */
  readonly drift: {
    readonly mrad: number;
    readonly interval90: [number, number];
    readonly pRight: number;
  } | null;
  /** The straight line through the sideways positions: where it is at the nearest distance, mm. */
  readonly line: { readonly atM: number; readonly mm: number } | null;
  /** Probability that the line bends to the right as distance grows; null below three distances. */
  readonly pBendsRight: number | null;
  readonly meaning: string;
}

/**
 * A walk-back series: one sight mark, one aim, several distances. Sideways positions of the fletched
 * centres are a straight line of distance when the arrow leaves true; its slope is the drift.
 * Heights fall away with distance by gravity and tell nothing here.
 */
export function walkBack(ends: readonly TrendEnd[], words: Words = ENGLISH): WalkBack {
  const points = pointsOf(ends);
  const tooFew = tooFewDistances(
    points.map(({ distanceM }) => distanceM),
    words,
  );
  if (tooFew !== null) {
    return {
      points,
      drift: null,
      line: null,
      pBendsRight: null,
      meaning: `${tooFew} ${words.say('Keep one sight mark and one aim.')}`,
    };
  }
  const nearest = points[0]!.distanceM;
  const furthest = points.at(-1)!.distanceM;
  const middle = (nearest + furthest) / 2;
  const [level, slope] = fitLine(ends, middle, 2) as readonly [AxisLaw, AxisLaw];
  const mrad = meanOf(slope);
  const interval90 = centralInterval(slope, 0.9);
  const half = (interval90[1] - interval90[0]) / 2;
  const pRight = massAboveValue(slope, 0);
  const pBendsRight = points.length >= 3 ? massAboveValue(fitLine(ends, middle, 3)[2]!, 0) : null;
  return {
    points,
    drift: { mrad, interval90, pRight },
    line: { atM: nearest, mm: meanOf(level) + mrad * (nearest - middle) },
    pBendsRight,
    meaning: meaningOf({ mrad, interval90, pRight, half, pBendsRight, words }),
  };
}

const STEADY_AIMS = 0.4;
/**
 * How far an end's aim lies beside the mark per axis, standard deviation, mrad: the arrows of one end share
 * it, so ends agree less than their arrows promise. Two series in five are shot as if there were no such error,
 * the rest with one that may be large; weighed by what the ends show (own judgement: so the interval holds
 * about as often with steady aims as with restless ones, as far as few ends tell them apart).
 */
const AIMS = (() => {
  const restless = [0.25, 0.35, 0.5, 0.7, 1, 1.4, 2, 2.8].map((sdMrad) => ({
    sdMrad,
    log: -((Math.log(sdMrad / 1.5) / 0.9) ** 2) / 2,
  }));
  const { logTotal } = sharesOfLogs(restless.map(({ log }) => log));
  return [
    { sdMrad: 0.03, log: Math.log(STEADY_AIMS) },
    ...restless.map(({ sdMrad, log }) => ({
      sdMrad,
      log: log - logTotal + Math.log(1 - STEADY_AIMS),
    })),
  ];
})();
/** Places about the log of the arrows' spread, in its standard deviations. */
const SPREADS = [-1.6, 0, 1.6] as const;
/** Wide beside anything that is shot: standard deviations in mm, mm a metre, mm a metre squared. */
const BEFORE = [1000, 50, 10].map((sd) => ({ mean: 0, sd }));

/** A line, or a parabola, of sideways position over distance, over how wide and how steadily is shot. */
function fitLine(ends: readonly TrendEnd[], middle: number, size: 2 | 3): readonly AxisLaw[] {
  const shot = ends.flatMap(({ fletchedMeanMm, fletched, distanceM }) =>
    fletchedMeanMm ? [{ mm: fletchedMeanMm, arrows: fletched, distanceM }] : [],
  );
  const { sigmaMrad, logSd } = spreadOf(ends);
  const rows = shot.map(({ distanceM }) => {
    const along = distanceM - middle;
    return [1, along, along ** 2].slice(0, size);
  });
  const y = shot.map(({ mm }) => mm[0]);
  const heights = heightsAtDistances(shot);
  const oneEach = shot.map((_, i) => [i]);
  return lineMixture(
    [{ expected: BEFORE.slice(0, size), log: 0 }],
    AIMS.flatMap((aim) =>
      SPREADS.map((z) => {
        const arrow = (sigmaMrad * Math.exp(z * logSd)) ** 2;
        const precisions = shot.map(
          ({ arrows, distanceM }) => 1 / (distanceM ** 2 * (arrow / arrows + aim.sdMrad ** 2)),
        );
        const sums = lineSums({ rows, y, precisions }, oneEach, { blockVariance: 0, size });
        return { sums, log: aim.log - z ** 2 / 2 + heights(precisions) };
      }),
    ),
  ).laws;
}

/**
 * Heights tell nothing of the drift, but ends at one distance differ in height by their aims as they do sideways:
 * the log of how well such precisions foretell that, up to a constant.
 */
function heightsAtDistances(
  shot: readonly { readonly mm: readonly [number, number]; readonly distanceM: number }[],
): (precisions: readonly number[]) => number {
  const places = blocksBy(shot.map(({ distanceM }) => `${distanceM}`));
  const y = shot.map(({ mm }) => mm[1]);
  for (const place of places) {
    const mean = place.reduce((sum, i) => sum + y[i]!, 0) / place.length;
    for (const i of place) y[i]! -= mean;
  }
  const rows = shot.map(() => []);
  const shape = { blockVariance: ANY_HEIGHT_MM ** 2, size: 0 };
  return (precisions) => {
    const { logPrecision, yy } = lineSums({ rows, y, precisions }, places, shape);
    return (logPrecision - yy) / 2;
  };
}

/** Wide beside anything that is shot. */
const ANY_HEIGHT_MM = 3000;

/** The arrows' spread and the standard deviation of its log; with single arrows only, as at first. */
function spreadOf(ends: readonly TrendEnd[]): { sigmaMrad: number; logSd: number } {
  const { squaresMrad2, df } = pooledSquares(ends);
  return df > 0 && squaresMrad2 > 0
    ? { sigmaMrad: Math.sqrt(squaresMrad2 / df), logSd: 1 / Math.sqrt(2 * df) }
    : { sigmaMrad: SPREAD_AT_FIRST.medianMrad, logSd: SPREAD_AT_FIRST.logSd };
}

/** Common practice, no published source. */
function meaningOf({
  mrad,
  interval90,
  pRight,
  half,
  pBendsRight,
  words,
}: {
  readonly mrad: number;
  readonly interval90: readonly [number, number];
  readonly pRight: number;
  readonly half: number;
  readonly pBendsRight: number | null;
  readonly words: Words;
}): string {
  const { say, inSlope, slopeUnit: unit } = words;
  // To the side that is named, so that no sign is needed.
  const sign = pRight >= 0.5 ? 1 : -1;
  const inside = interval90.map((one) => sign * one).sort((a, b) => a - b);
  const [drift, low, high] = [sign * mrad, ...inside].map((one) => inSlope(one));
  if (pBendsRight !== null && Math.max(pBendsRight, 1 - pBendsRight) >= 0.95) {
    return say('The line of impact bends: look at the plunger first, then shoot the series again.');
  }
  if (Math.max(pRight, 1 - pRight) >= 0.95) {
    return say(
      pRight >= 0.5
        ? 'The impacts drift to the right by {drift} {unit} (90 %: {low} to {high}): look at the centre shot, change it in small steps, shoot the series again.'
        : 'The impacts drift to the left by {drift} {unit} (90 %: {low} to {high}): look at the centre shot, change it in small steps, shoot the series again.',
      { drift: drift!, low: low!, high: high!, unit },
    );
  }
  return half < 0.5
    ? say('The line of impact is straight within {half} {unit}: centre shot and plunger agree.', {
        half: inSlope(half),
        unit,
      })
    : say(
        'Whether the impacts drift is undecided: more arrows at the nearest and the furthest distance tell most.',
      );
}

function pointsOf(ends: readonly TrendEnd[]): WalkBack['points'][number][] {
  const distances = [...new Set(ends.map((end) => end.distanceM))].sort((a, b) => a - b);
  const { sigmaMrad } = spreadOf(ends);
  return distances.flatMap((distanceM) => {
    const here = ends.filter((end) => end.distanceM === distanceM && end.fletchedMeanMm);
    const arrows = here.reduce((sum, end) => sum + end.fletched, 0);
    if (arrows === 0) return [];
    const mean = (axis: 0 | 1) =>
      here.reduce((sum, end) => sum + end.fletched * end.fletchedMeanMm![axis], 0) / arrows;
    return [
      {
        distanceM,
        mm: [mean(0), mean(1)],
        seMm: (sigmaMrad * distanceM) / Math.sqrt(arrows),
        arrows,
      },
    ];
  });
}
