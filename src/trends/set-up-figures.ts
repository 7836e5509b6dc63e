import normal from '@stdlib/stats-base-dists-normal';
import type { FaceId } from '../face/faces.ts';
import type { Scoring } from '../face/scoring.ts';
import { pooledSpread, type PooledSpread } from './pooled-spread.ts';
import { shotAs, type TrendEnd } from './trend-ends.ts';

/** How one set-up shot, over all its ends. */
export interface SetUpFigures {
  readonly setUpId: string;
  readonly ends: number;
  /** Arrows with a value, misses counted. */
  readonly arrows: number;
  readonly misses: number;
  /** Fletched spread per axis, mrad, with its 90 % interval; null below two arrows in every end. */
  readonly spread: PooledSpread | null;
  /** Points an arrow on the one distance and face that `common` names; null without arrows there. */
  readonly average: {
    readonly value: number;
    readonly interval90: [number, number];
    readonly arrows: number;
  } | null;
}

export interface SetUpsFigures {
  /**
   * The distance, face and rule of scoring that most set-ups were shot on, of these the one with most arrows:
   * averages of different ones do not compare.
   */
  readonly common: {
    readonly distanceM: number;
    readonly face: FaceId;
    readonly scoring: Scoring;
  } | null;
  readonly setUps: readonly SetUpFigures[];
}

const Z90 = normal.quantile(0.95, 0, 1);

/** Spread and average of each set-up, in the order given, those without ends left out. */
export function setUpFigures(
  ends: readonly TrendEnd[],
  setUpIds: readonly string[],
): SetUpsFigures {
  const common = commonOf(ends);
  const setUps = setUpIds.flatMap((setUpId) => {
    const own = ends.filter((end) => end.setUpId === setUpId);
    return own.length === 0 ? [] : [figuresOf(setUpId, own, common)];
  });
  return { common, setUps };
}

function commonOf(ends: readonly TrendEnd[]): SetUpsFigures['common'] {
  const cells = new Map<
    string,
    { readonly at: SetUpsFigures['common']; readonly setUps: Set<string>; arrows: number }
  >();
  for (const end of ends) {
    const { distanceM, face, scoring, values, setUpId } = end;
    if (values.length === 0) continue;
    const key = shotAs(end);
    const cell = cells.get(key) ?? {
      at: { distanceM, face, scoring },
      setUps: new Set(),
      arrows: 0,
    };
    cell.arrows += values.length;
    cell.setUps.add(setUpId);
    cells.set(key, cell);
  }
  const [most] = [...cells.values()].sort(
    (a, b) => b.setUps.size - a.setUps.size || b.arrows - a.arrows,
  );
  return most?.at ?? null;
}

function figuresOf(
  setUpId: string,
  ends: readonly TrendEnd[],
  common: SetUpsFigures['common'],
): SetUpFigures {
  return {
    setUpId,
    ends: ends.length,
    arrows: ends.reduce((sum, end) => sum + end.values.length, 0),
    misses: ends.reduce((sum, end) => sum + end.misses, 0),
    spread: pooledSpread(ends),
    average: averageOf(
      ends
        .filter((end) => common !== null && shotAs(end) === shotAs(common))
        .flatMap((end) => end.values),
    ),
  };
}

function averageOf(values: readonly number[]): SetUpFigures['average'] {
  const arrows = values.length;
  if (arrows === 0) return null;
  const value = values.reduce((sum, v) => sum + v, 0) / arrows;
  // One point an arrow on two degrees of freedom stands beside few values that happen to agree.
  const squares = values.reduce((sum, v) => sum + (v - value) ** 2, 0);
  const half = Z90 * Math.sqrt((squares + 2) / (arrows + 1) / arrows);
  return { value, interval90: [value - half, value + half], arrows };
}
