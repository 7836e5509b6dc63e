import type { SpotMm } from '../../face/coordinates.ts';
import type { Face } from '../../face/faces.ts';
import { spotToFlat, type FlatFace } from '../../fit/flat/flatten.ts';
import type { Misfit } from './expected-face.ts';

/** Where a ring number is printed, as a square cell around its middle. */
export interface NumberCell {
  readonly mm: SpotMm;
  readonly halfMm: number;
  /** Which zone's number, from the outermost inwards: other rows show the same one. */
  readonly zone: number;
}

/** The number that may be printed at a position on the spot. */
export function numberAt(cells: readonly NumberCell[], [x, y]: SpotMm): NumberCell | undefined {
  return cells.find(
    ({ mm, halfMm }) => Math.abs(x - mm[0]) <= halfMm && Math.abs(y - mm[1]) <= halfMm,
  );
}

/** A number fills up to this part of its zone's width either way from its middle. */
const CELL = 0.18;
/** A direction holds numbers when this part of its zones (and at least three) show something. */
const LEAST_SHARE = 0.6;
/** Share that is enough at right angles to a row already found. */
const LEAST_SHARE_IN_CROSS = 0.4;
/** Rows are further apart than this, degrees. */
const APART = 20;
/** A cell shows something when its misfit is this many spreads over what is usual around it. */
const SHOWS = 5;
/** Degrees either way over which the usual misfit is taken. */
const AROUND = 30;

/**
 * Ring numbers stand in the middle of their zones, one behind another in the same direction from
 * the centre. Holes do so only by chance: a direction in which most zones show something right in
 * the middle is a row of numbers.
 */
export function numberCells(face: Face, flat: FlatFace, misfit: Misfit): NumberCell[] {
  const zones = [...face.zones].sort((a, b) => b.outerRadiusMm - a.outerRadiusMm);
  const bands = zones.map((zone, i) => {
    const innerMm = zones[i + 1]?.outerRadiusMm ?? face.innerRadiusMm ?? 0;
    return {
      middleMm: (zone.outerRadiusMm + innerMm) / 2,
      halfMm: CELL * (zone.outerRadiusMm - innerMm),
    };
  });
  const steps = 360;
  const counts = new Uint8Array(steps);
  const levels = new Uint16Array(LEVELS);
  for (const { middleMm, halfMm } of bands) {
    const energy = Float64Array.from({ length: steps }, (_, i) =>
      cellEnergy(flat, misfit, middleMm, (2 * Math.PI * i) / steps, halfMm, levels),
    );
    const reach = Math.max(0, Math.round((0.5 * halfMm) / middleMm / ((2 * Math.PI) / steps)));
    const around = Float64Array.from({ length: 2 * AROUND + 1 }, (_, k) => energy.at(k - AROUND)!);
    around.sort();
    const shows = energy.map((e, i) => {
      const usual = around[AROUND]!;
      const spread = (around[AROUND + (AROUND >> 1)]! - around[AROUND >> 1]!) / 1.35;
      const leaving = energy[(i - AROUND + steps) % steps]!;
      replaceSorted(around, leaving, energy[(i + AROUND + 1) % steps]!);
      return e > usual + SHOWS * Math.max(spread, 0.3) ? 1 : 0;
    });
    for (let i = 0; i < steps; i++) {
      for (let k = -reach; k <= reach; k++) {
        if (!shows[(i + k + steps) % steps]) continue;
        counts[i]!++;
        break;
      }
    }
  }
  const cells: NumberCell[] = [];
  for (const angle of rowAngles(counts, bands.length)) {
    bands.forEach(({ middleMm, halfMm }, zone) => {
      cells.push({
        mm: [middleMm * Math.cos(angle), middleMm * Math.sin(angle)],
        halfMm: halfMm * 1.3,
        zone,
      });
    });
  }
  return cells;
}

/** Takes a value out of sorted ones and puts another in its place in their order. */
function replaceSorted(sorted: Float64Array, leaving: number, entering: number): void {
  let at = sorted.indexOf(leaving);
  for (; at > 0 && sorted[at - 1]! > entering; at--) sorted[at] = sorted[at - 1]!;
  for (; at < sorted.length - 1 && sorted[at + 1]! < entering; at++) sorted[at] = sorted[at + 1]!;
  sorted[at] = entering;
}

/**
 * Directions (radians) in which most zones show something; of directions at right angles to one
 * found, those that fewer zones speak for are taken too, since rows come in crosses.
 */
function rowAngles(counts: Uint8Array, zones: number): number[] {
  const steps = counts.length;
  const least = Math.max(3, Math.ceil(LEAST_SHARE * zones));
  const leastInCross = Math.max(2, Math.ceil(LEAST_SHARE_IN_CROSS * zones));
  const found: number[] = [];
  const order = Array.from(counts.keys()).sort((a, b) => counts[b]! - counts[a]!);
  for (const i of order) {
    if (counts[i]! < least) break;
    if (found.every((k) => apart(i, k, steps) > APART)) found.push(middleOfPeak(counts, i));
  }
  for (const k of [...found]) {
    for (let quarter = 1; quarter <= 3; quarter++) {
      const at = Math.round(k + (quarter * steps) / 4) % steps;
      if (found.some((other) => apart(at, other, steps) <= APART)) continue;
      const near = [0, 1, -1, 2, -2].map((d) => (at + d + steps) % steps);
      const best = near.reduce((a, b) => (counts[b]! > counts[a]! ? b : a));
      if (counts[best]! >= leastInCross) found.push(middleOfPeak(counts, best));
    }
  }
  return crossed(found, steps / 4).map((k) => (2 * Math.PI * k) / steps);
}

/** Rows of one cross differ by at most this from right angles before they are brought to them. */
const CROSS_SLACK = 4;

/**
 * Rows of one cross stand at right angles exactly: each takes the middle of what they say together,
 * so that a hole beside a number does not turn its row.
 */
function crossed(rows: readonly number[], quarter: number): number[] {
  return rows.map((row) => {
    const turns = rows
      .map((other) => other - row - Math.round((other - row) / quarter) * quarter)
      .filter((turn) => Math.abs(turn) <= CROSS_SLACK)
      .sort((a, b) => a - b);
    const middle = turns.length / 2;
    return row + (turns[Math.floor(middle - 0.5)]! + turns[Math.floor(middle)]!) / 2;
  });
}

/** Middle of the stretch of equally high counts around a direction. */
function middleOfPeak(counts: Uint8Array, at: number): number {
  const steps = counts.length;
  let before = 0;
  let after = 0;
  while (before < APART && counts[(at - before - 1 + steps) % steps] === counts[at]) before++;
  while (after < APART && counts[(at + after + 1) % steps] === counts[at]) after++;
  return at + (after - before) / 2;
}

function apart(a: number, b: number, steps: number): number {
  const d = Math.abs(a - b) % steps;
  return Math.min(d, steps - d);
}

/** Misfits, of 0 to 255, are told apart in so many levels. */
const LEVELS = 1024;

/**
 * Mean of the largest tenth of the misfits in the cell: a glyph is thin and covers little of it.
 *
 * @param levels Room for counts, one per level.
 */
function cellEnergy(
  flat: FlatFace,
  misfit: Misfit,
  middleMm: number,
  angle: number,
  halfMm: number,
  levels: Uint16Array,
): number {
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const reach = Math.max(2, Math.min(6, Math.round(halfMm / flat.mmPerPx)));
  const [middleX, middleY] = spotToFlat(flat, [middleMm * cos, middleMm * sin]);
  const outStep = (halfMm * 0.8) / reach / flat.mmPerPx;
  const alongStep = (halfMm * 0.6) / reach / flat.mmPerPx;
  levels.fill(0);
  let highest = 0;
  for (let i = -reach; i <= reach; i++) {
    for (let j = -reach; j <= reach; j++) {
      // The flat picture's y points down.
      const x = middleX + i * outStep * cos - j * alongStep * sin;
      const y = middleY - i * outStep * sin - j * alongStep * cos;
      const odd = misfit.odd[Math.floor(y) * misfit.side + Math.floor(x)] ?? 0;
      const level = Math.min(LEVELS - 1, Math.floor((odd / 256) * LEVELS));
      levels[level]!++;
      if (level > highest) highest = level;
    }
  }
  const most = Math.ceil((2 * reach + 1) ** 2 / 10);
  let left = most;
  let sum = 0;
  for (let level = highest; left > 0; level--) {
    const here = Math.min(left, levels[level]!);
    sum += here * (level + 0.5);
    left -= here;
  }
  return ((sum / most) * 256) / LEVELS;
}
