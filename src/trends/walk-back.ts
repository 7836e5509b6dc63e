import student from '@stdlib/stats-base-dists-t';
import {
  combination,
  unitCovariance,
  updateNormalInverseGamma,
  type NormalInverseGamma,
} from '../tuning/response/normal-inverse-gamma.ts';
import { pooledSpread } from './pooled-spread.ts';
import type { TrendEnd } from './trend-ends.ts';

export interface WalkBack {
  /** Fletched centres at each distance, mm from the aim, with the standard error per axis. */
  readonly points: readonly {
    readonly distanceM: number;
    readonly mm: [number, number];
    readonly seMm: number;
    readonly arrows: number;
  }[];
  /** How far the impacts drift sideways per metre, mm (an angle in mrad); null below two distances. */
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
export function walkBack(ends: readonly TrendEnd[]): WalkBack {
  const points = pointsOf(ends);
  if (points.length < 2) {
    return {
      points,
      drift: null,
      line: null,
      pBendsRight: null,
      meaning: 'Shoot at two distances or more with one sight mark and one aim.',
    };
  }
  const nearest = points[0]!.distanceM;
  const furthest = points.at(-1)!.distanceM;
  const middle = (nearest + furthest) / 2;
  const fit = (columns: 2 | 3) =>
    updateNormalInverseGamma(
      flat(columns),
      points.map(({ distanceM, mm, seMm }) => {
        const along = distanceM - middle;
        return { x: [1, along, along ** 2].slice(0, columns), y: mm[0], weight: 1 / seMm ** 2 };
      }),
    );
  const straight = fit(2);
  const slope = combination(straight, unitCovariance(straight), [0, 1]);
  const half = student.quantile(0.95, slope.df) * slope.scale;
  const pRight = student.cdf(slope.mean / slope.scale, slope.df);
  let pBendsRight: number | null = null;
  if (points.length >= 3) {
    const bent = fit(3);
    const bend = combination(bent, unitCovariance(bent), [0, 0, 1]);
    pBendsRight = student.cdf(bend.mean / bend.scale, bend.df);
  }
  return {
    points,
    drift: { mrad: slope.mean, interval90: [slope.mean - half, slope.mean + half], pRight },
    line: { atM: nearest, mm: straight.mean[0]! + slope.mean * (nearest - middle) },
    pBendsRight,
    meaning: meaningOf({ pRight, half, pBendsRight }),
  };
}

/** The standard errors carry the noise; twenty degrees of freedom let the scatter correct it. */
function flat(columns: number): NormalInverseGamma {
  return {
    mean: Array<number>(columns).fill(0),
    precision: Array.from({ length: columns }, (_, i) =>
      Array.from({ length: columns }, (__, j) => (i === j ? 1e-9 : 0)),
    ),
    shape: 10,
    rate: 10,
  };
}

/** Common practice, no published source. */
function meaningOf({
  pRight,
  half,
  pBendsRight,
}: {
  readonly pRight: number;
  readonly half: number;
  readonly pBendsRight: number | null;
}): string {
  if (pBendsRight !== null && Math.max(pBendsRight, 1 - pBendsRight) >= 0.95) {
    return 'The line of impact bends: the trade looks at the plunger first, then shoots the series again.';
  }
  if (Math.max(pRight, 1 - pRight) >= 0.95) {
    const side = pRight >= 0.5 ? 'right' : 'left';
    return `The impacts drift to the ${side} with distance along a straight line: the trade looks at the centre shot, in small steps, and shoots the series again.`;
  }
  return half < 0.5
    ? 'The line of impact hangs straight: centre shot and plunger agree.'
    : 'Whether the impacts drift with distance is undecided: more arrows at the nearest and the furthest distance tell most.';
}

function pointsOf(ends: readonly TrendEnd[]): WalkBack['points'][number][] {
  const distances = [...new Set(ends.map((end) => end.distanceM))].sort((a, b) => a - b);
  // With single arrows only, a spread of 2 mrad stands in.
  const sigmaMrad = pooledSpread(ends)?.sigmaMrad ?? 2;
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
