import type { SpotMm } from '../../face/coordinates.ts';
import type { HoleCandidate } from '../candidates/hole-candidate.ts';
import { solveLeastSquares } from './solve-least-squares.ts';

/** Where a place of the later photo lies in the earlier one, both from the spot's centre. */
export interface Registration {
  readonly toBefore: (mm: SpotMm) => SpotMm;
  /** Robust spread per axis of the old holes about it, mm; the fits' own error where too few. */
  readonly sdMm: number;
  /** Old holes of the earlier photo that should be seen in the later one, and those found. */
  readonly clear: number;
  readonly matched: number;
  /** How many of them would be found on a face with as many other holes as far out. */
  readonly matchedByChance: number;
}

/** A hole of the earlier photo that is certainly one. */
const CLEAR = 0.9;
/** Two fits of one face may differ by this much, mm, and by as much again per metre. */
const FIT_MM = 2.5;
/** "Up" is found from the photo on some faces: the two may be turned by this much, degrees. */
const MOST_TURN_DEG = 12;

/**
 * Lays two photos of one spot upon each other by the holes that both show: first the turn about the
 * centre, which rings cannot tell, then a smooth field, as rich as the number of holes allows.
 */
export function registerViews(
  before: readonly HoleCandidate[],
  after: readonly HoleCandidate[],
  shaftMm: number,
  isSeenAfter: (mm: SpotMm) => boolean,
): Registration {
  const clear = before.filter((hole) => hole.probability >= CLEAR);
  const targets = after.filter((hole) => hole.probability >= 0.2);
  const reach = Math.max(FIT_MM, 0.5 * shaftMm);
  const turn = bestTurn(clear, targets, reach);
  let toBefore = (mm: SpotMm): SpotMm => rotate(mm, turn);
  let toAfter = (mm: SpotMm): SpotMm => rotate(mm, -turn);
  let sdMm = 0.5 * FIT_MM;
  let pairs = matchHoles(clear, targets, toAfter, reach);
  for (let pass = 0; pass < 4 && pairs.length >= 3; pass++) {
    const terms = pairs.length >= 24 ? 6 : pairs.length >= 8 ? 3 : 1;
    const forward = smoothField(
      pairs.map(({ a, b }) => [rotate(a, turn), b]),
      terms,
      sdMm,
    );
    const fieldBack = smoothField(
      pairs.map(({ a, b }) => [rotate(b, -turn), a]),
      terms,
      sdMm,
    );
    toBefore = (mm) => forward(rotate(mm, turn));
    toAfter = (mm) => fieldBack(rotate(mm, -turn));
    const misses = pairs
      .flatMap(({ a, b }) => {
        const p = toBefore(a);
        return [Math.abs(p[0] - b[0]), Math.abs(p[1] - b[1])];
      })
      .sort((p, q) => p - q);
    sdMm = Math.max(0.1, 1.4826 * misses[misses.length >> 1]!);
    pairs = matchHoles(clear, targets, toAfter, Math.max(0.35 * shaftMm, 4 * sdMm));
  }
  const visible = clear.filter((hole) => isSeenAfter(toAfter(hole.mm)));
  const near = Math.max(0.4 * shaftMm, 4 * sdMm);
  const matchedAt = (angle: number): number =>
    matchHoles(visible, targets, (mm) => rotate(toAfter(mm), angle), near).length;
  const byChance = OTHER_TURNS.map(matchedAt);
  return {
    toBefore,
    sdMm,
    clear: visible.length,
    matched: matchedAt(0),
    matchedByChance: byChance.reduce((sum, count) => sum + count, 0) / byChance.length,
  };
}

/** Turned so far, a face is as good as another one that is as much used: holes lie as dense as before. */
const OTHER_TURNS = Array.from({ length: 10 }, (_, i) => ((40 + 28 * i) * Math.PI) / 180);

function rotate(mm: SpotMm, angle: number): SpotMm {
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  return [mm[0] * cos - mm[1] * sin, mm[0] * sin + mm[1] * cos];
}

/** Turn (radians, later photo to earlier one) under which most clear holes find a counterpart. */
function bestTurn(
  clear: readonly HoleCandidate[],
  targets: readonly HoleCandidate[],
  reachMm: number,
): number {
  let best = 0;
  let most = -Infinity;
  for (let step = -MOST_TURN_DEG * 4; step <= MOST_TURN_DEG * 4; step++) {
    const angle = (step * Math.PI) / 720;
    let count = 0;
    for (const hole of clear) {
      const at = rotate(hole.mm, -angle);
      let nearest = Infinity;
      for (const { mm } of targets) {
        nearest = Math.min(nearest, (mm[0] - at[0]) ** 2 + (mm[1] - at[1]) ** 2);
      }
      count += Math.exp(-nearest / (2 * reachMm * reachMm));
    }
    // No turn wins a tie.
    count -= 1e-3 * Math.abs(step);
    if (count > most) {
      most = count;
      best = angle;
    }
  }
  return best;
}

interface Pair {
  readonly a: SpotMm;
  readonly b: SpotMm;
}

/** Pairs that are each other's nearest. */
function matchHoles(
  before: readonly HoleCandidate[],
  after: readonly HoleCandidate[],
  toAfter: (mm: SpotMm) => SpotMm,
  reachMm: number,
): Pair[] {
  const moved = before.map((hole) => toAfter(hole.mm));
  const nearest = (mm: SpotMm, others: readonly SpotMm[]): number => {
    let best = -1;
    let least = reachMm * reachMm;
    others.forEach((other, i) => {
      const d = (other[0] - mm[0]) ** 2 + (other[1] - mm[1]) ** 2;
      if (d < least) {
        least = d;
        best = i;
      }
    });
    return best;
  };
  const places = after.map((hole) => hole.mm);
  const pairs: Pair[] = [];
  moved.forEach((mm, i) => {
    const j = nearest(mm, places);
    if (j >= 0 && nearest(places[j]!, moved) === i) pairs.push({ a: places[j]!, b: before[i]!.mm });
  });
  return pairs;
}

/** Robust polynomial displacement of degree 0, 1 or 2 (1, 3 or 6 terms) taking each first to its second. */
function smoothField(
  pairs: readonly (readonly [SpotMm, SpotMm])[],
  terms: number,
  sdMm: number,
): (mm: SpotMm) => SpotMm {
  const scale = Math.max(...pairs.map(([p]) => Math.hypot(p[0], p[1])), 1);
  const basis = (mm: SpotMm): number[] => {
    const x = mm[0] / scale;
    const y = mm[1] / scale;
    return [1, x, y, x * x, x * y, y * y].slice(0, terms);
  };
  const rows = pairs.map(([p]) => basis(p));
  const along = ([0, 1] as const).map((axis) => {
    const wanted = pairs.map(([p, q]) => q[axis] - p[axis]);
    let weights = wanted.map(() => 1);
    let solution: number[] = [];
    for (let i = 0; i < 6; i++) {
      solution = solveLeastSquares(rows, wanted, weights, 1e-3);
      weights = rows.map((row, k) => {
        const residual = wanted[k]! - row.reduce((sum, v, t) => sum + v * solution[t]!, 0);
        return 1 / (1 + (residual / (2 * sdMm)) ** 2);
      });
    }
    return solution;
  });
  return (mm) => {
    const at = basis(mm);
    return [
      mm[0] + at.reduce((sum, v, t) => sum + v * along[0]![t]!, 0),
      mm[1] + at.reduce((sum, v, t) => sum + v * along[1]![t]!, 0),
    ];
  };
}
