import type { FaceId } from '../face/faces.ts';
import type { Scoring } from '../face/scoring.ts';
import { centralInterval, meanOf } from '../tuning/response/axis-law.ts';
import { spreadLines, valueLines, type EveningCell, type EveningLines } from './evening-noise.ts';
import { lineMixture } from './line-mixture.ts';
import type { PooledSpread } from './pooled-spread.ts';
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
    spread: spreadOf(ends),
    average: averageOf(ends.filter((end) => common !== null && shotAs(end) === shotAs(common))),
  };
}

/** What a set-up usually shoots, not what it shot: evenings differ, and the next one will too. */
function usualOf(
  lines: EveningLines,
): { readonly mean: number; readonly interval90: [number, number] } | null {
  if (lines.cells.length === 0) return null;
  const centre = lines.cells.reduce((sum, { y }) => sum + y, 0) / lines.cells.length;
  const law = lineMixture(
    [{ expected: [{ mean: centre, sd: ANYWHERE }], log: 0 }],
    lines.suppose(lines.cells.map(() => [1])),
  ).laws[0]!;
  return { mean: meanOf(law), interval90: centralInterval(law, 0.9) };
}

/** Before, points an arrow or log of a spread: wide beside anything that is shot. */
const ANYWHERE = 20;

function spreadOf(ends: readonly TrendEnd[]): PooledSpread | null {
  const usual = usualOf(spreadLines(byEvening(ends)));
  if (!usual) return null;
  const [low, high] = usual.interval90;
  return { sigmaMrad: Math.exp(usual.mean), interval90: [Math.exp(low), Math.exp(high)] };
}

function averageOf(ends: readonly TrendEnd[]): SetUpFigures['average'] {
  const values = ends.flatMap((end) => end.values);
  const usual = usualOf(valueLines(byEvening(ends)));
  if (!usual) return null;
  // The average is the one that anybody can check by adding up.
  const value = values.reduce((sum, v) => sum + v, 0) / values.length;
  return { value, interval90: usual.interval90, arrows: values.length };
}

function byEvening(ends: readonly TrendEnd[]): EveningCell[] {
  const cells = new Map<string, TrendEnd[]>();
  for (const end of ends) cells.set(end.sessionId, [...(cells.get(end.sessionId) ?? []), end]);
  return [...cells].map(([sessionId, own]) => ({ sessionId, ends: own }));
}
