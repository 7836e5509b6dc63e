import student from '@stdlib/stats-base-dists-t';
import {
  combination,
  unitCovariance,
  updateNormalInverseGamma,
} from '../tuning/response/normal-inverse-gamma.ts';
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
  /** Slope of log spread over log distance: 1 is a constant angle. Null below two distances. */
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

/** Day-to-day standard deviation of the log of spread, beside the chance of few arrows. */
const DAY_LOG_SD = 0.1;

/**
 * Does the fletched group grow in step with distance? A weighted straight line of log spread over
 * log distance, one point per session and distance.
 */
export function spreadAgainstDistance(ends: readonly TrendEnd[]): SpreadAgainstDistance {
  const points = pointsOf(ends);
  const distances = new Set(points.map(({ point }) => point.distanceM));
  const plain = points.map(({ point }) => point);
  if (distances.size < 2) {
    return {
      points: plain,
      slope: null,
      line: null,
      verdict: 'too little',
      meaning: 'Shoot groups at two distances or more: one distance has no slope.',
    };
  }
  const weights = points.map(({ df }) => 1 / (1 / (2 * df) + DAY_LOG_SD ** 2));
  const total = weights.reduce((sum, w) => sum + w, 0);
  const middle =
    points.reduce((sum, { point }, i) => sum + weights[i]! * Math.log(point.distanceM), 0) / total;
  const law = updateNormalInverseGamma(
    // The weights carry the noise; ten degrees of freedom let the scatter correct it.
    { mean: [0, 1], precision: [[1e-6, 0], [0, 0.25]], shape: 5, rate: 5 }, // prettier-ignore
    points.map(({ point, df }, i) => ({
      x: [1, Math.log(point.distanceM) - middle],
      y: Math.log(point.sigmaMm) + 1 / (2 * df),
      weight: weights[i]!,
    })),
  );
  const covariance = unitCovariance(law);
  const slope = combination(law, covariance, [0, 1]);
  const half = student.quantile(0.95, slope.df) * slope.scale;
  const pAbove1 = student.cdf((slope.mean - 1) / slope.scale, slope.df);
  const within = (off: number) =>
    student.cdf((1 + off - slope.mean) / slope.scale, slope.df) -
    student.cdf((1 - off - slope.mean) / slope.scale, slope.df);
  const interval90: [number, number] = [slope.mean - half, slope.mean + half];
  const verdict =
    pAbove1 >= 0.95
      ? 'faster than distance'
      : pAbove1 <= 0.05
        ? 'slower than distance'
        : within(0.25) >= 0.8
          ? 'constant angle'
          : 'undecided';
  return {
    points: plain,
    slope: { mean: slope.mean, interval90, pAbove1 },
    line: { referenceM: Math.exp(middle), sigmaMm: Math.exp(law.mean[0]!) },
    verdict,
    meaning: MEANINGS[verdict],
  };
}

/** What the trade suspects (common practice, no published source). */
const MEANINGS: Record<Exclude<SpreadAgainstDistance['verdict'], 'too little'>, string> = {
  'constant angle':
    'Groups grow in step with distance: the arrows leave the bow as well as you hold it.',
  'faster than distance':
    'Groups grow faster than distance: the trade suspects vanes that touch on the way out, arrows that settle late or differ from one another, wind, or a sight picture that is harder far away.',
  'slower than distance':
    'Groups grow slower than distance: the trade suspects that near groups suffer from arrows not yet settled, from holding off touching arrows, or from less care.',
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
      const spread = Math.exp(1.645 / Math.sqrt(2 * df));
      return {
        df,
        point: {
          sessionId: end.sessionId,
          distanceM: end.distanceM,
          sigmaMm,
          interval90Mm: [sigmaMm / spread, sigmaMm * spread],
          arrows,
        },
      };
    });
}
