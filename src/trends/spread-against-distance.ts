import { ENGLISH, type PlainText, type Words } from '../words/words.ts';
import {
  centralInterval,
  massAboveValue,
  meanOf,
  type AxisLaw,
} from '../tuning/response/axis-law.ts';
import { blocksBy, lineSums } from '../tuning/response/gaussian-line.ts';
import { tooFewDistances } from './enough-distances.ts';
import { logBias, logVariance } from './evening-noise.ts';
import { lineMixture } from './line-mixture.ts';
import { spreadInterval90 } from './pooled-spread.ts';
import type { TrendEnd } from './trend-ends.ts';

export interface SpreadPoint {
  readonly sessionId: string;
  readonly distanceM: number;
  /** Spread per axis of the fletched arrows, with its 90 % interval. */
  readonly sigmaMm: number;
  readonly interval90Mm: [number, number];
  readonly arrows: number;
}

export interface SpreadAgainstDistance {
  readonly points: readonly SpreadPoint[];
  /** Slope of log spread over log distance: 1 is a constant angle. Null at too few distances. */
  readonly slope: {
    readonly mean: number;
    readonly interval90: [number, number];
    readonly pAbove1: number;
  } | null;
  /** The fitted line: sigma at a distance is sigmaMrad at the reference, times distance^slope. */
  readonly line: { readonly referenceM: number; readonly sigmaMm: number } | null;
  readonly verdict:
    'constant angle' | 'faster than distance' | 'slower than distance' | 'undecided' | 'too little';
  readonly meaning: string;
}

/**
 * Standard deviations of the log of spread beside the chance of few arrows, from steady archers to
 * others, weighed by what the points show (own judgement): of a day's form, and of one distance on a day.
 */
const FORMS = [0.02, 0.06, 0.12, 0.24, 0.48].map((logSd) => ({
  logSd,
  ofDay: -((Math.log(logSd / 0.1) / 0.9) ** 2) / 2,
  ofPlace: -((Math.log(logSd / 0.04) / 0.7) ** 2) / 2,
}));
/** Before shooting: the level of the log of spread may be anything, and groups grow about with distance. */
const BEFORE = [
  { mean: 0, sd: 20 },
  { mean: 1, sd: 2 },
] as const;

/**
 * Does the fletched group grow in step with distance? A weighted straight line of log spread over
 * log distance, one point per session and distance.
 */
export function spreadAgainstDistance(
  ends: readonly TrendEnd[],
  words: Words = ENGLISH,
): SpreadAgainstDistance {
  const points = pointsOf(ends);
  const tooFew = tooFewDistances(
    points.map(({ point }) => point.distanceM),
    words,
  );
  const plain = points.map(({ point }) => point);
  if (tooFew !== null) {
    return {
      points: plain,
      slope: null,
      line: null,
      verdict: 'too little',
      meaning: tooFew,
    };
  }
  const precisions = points.map(({ df }) => 1 / logVariance(df));
  const total = precisions.reduce((sum, w) => sum + w, 0);
  const middle =
    points.reduce((sum, { point }, i) => sum + precisions[i]! * Math.log(point.distanceM), 0) /
    total;
  const rows = points.map(({ point }) => [1, Math.log(point.distanceM) - middle]);
  const y = points.map(({ point, df }) => Math.log(point.sigmaMm) - logBias(df));
  const days = blocksBy(points.map(({ point }) => point.sessionId));
  const [level, slope] = lineMixture(
    [{ expected: BEFORE, log: 0 }],
    FORMS.flatMap((day) =>
      FORMS.map((here) => {
        const own = precisions.map((precision) => 1 / (1 / precision + here.logSd ** 2));
        const shape = { blockVariance: day.logSd ** 2, size: 2 };
        const sums = lineSums({ rows, y, precisions: own }, days, shape);
        return { sums, log: day.ofDay + here.ofPlace };
      }),
    ),
  ).laws as [AxisLaw, AxisLaw];
  const pAbove1 = massAboveValue(slope, 1);
  const within = (off: number) => massAboveValue(slope, 1 - off) - massAboveValue(slope, 1 + off);
  const verdict =
    pAbove1 >= 0.95
      ? 'faster than distance'
      : pAbove1 <= 0.05
        ? 'slower than distance'
        : within(0.25) >= 0.8
          ? 'constant angle'
          : 'undecided';
  const mean = meanOf(slope);
  const interval90 = centralInterval(slope, 0.9);
  return {
    points: plain,
    slope: { mean, interval90, pAbove1 },
    line: { referenceM: Math.exp(middle), sigmaMm: Math.exp(meanOf(level)) },
    verdict,
    meaning: `${words.say(MEANINGS[verdict])} ${words.say(
      'Twice as far, groups are {times} times as wide (90 %: {low} to {high}).',
      {
        times: words.number(2 ** mean, 1),
        low: words.number(2 ** interval90[0], 1),
        high: words.number(2 ** interval90[1], 1),
      },
    )}`,
  };
}

/** What the trade suspects (common practice, no published source). */
const MEANINGS: Record<Exclude<SpreadAgainstDistance['verdict'], 'too little'>, PlainText> = {
  'constant angle':
    'Groups grow in step with distance: the arrows leave the bow as well as you hold it.',
  'faster than distance':
    'Groups grow faster than distance: look for vanes that touch, arrows that settle late or differ, wind, a harder sight picture.',
  'slower than distance':
    'Groups grow slower than distance: near ones may suffer from arrows not yet settled, from holding off, or from less care.',
  undecided:
    'Whether groups grow in step with distance is undecided: more arrows at the nearest and the furthest distance tell most.',
};

function pointsOf(ends: readonly TrendEnd[]): { point: SpreadPoint; df: number }[] {
  const cells = new Map<string, { end: TrendEnd; squares: number; df: number; arrows: number }>();
  for (const end of ends) {
    if (end.fletched < 2) continue;
    const key = `${end.sessionId} ${end.distanceM}`;
    const cell = cells.get(key) ?? { end, squares: 0, df: 0, arrows: 0 };
    cell.squares += end.squaresMrad2.fletched;
    cell.df += 2 * (end.fletched - 1);
    cell.arrows += end.fletched;
    cells.set(key, cell);
  }
  return [...cells.values()]
    .filter(({ squares }) => squares > 0)
    .map(({ end, squares, df, arrows }) => {
      const sigmaMm = Math.sqrt(squares / df) * end.distanceM;
      return {
        df,
        point: {
          sessionId: end.sessionId,
          distanceM: end.distanceM,
          sigmaMm,
          interval90Mm: spreadInterval90(sigmaMm, df),
          arrows,
        },
      };
    });
}
