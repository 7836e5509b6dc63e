import type { FaceFit } from '../../fit/camera/face-fit.ts';
import { flatToSpot } from '../../fit/flat/flatten.ts';
import { spotToSheet } from '../../fit/camera/project.ts';
import type { SpotView } from '../flat-view/spot-view.ts';
import { arrowGeometry, arrowPrior, BESIDE } from './arrow-geometry.ts';

/** A bar that starts at a place and may be the shaft of a standing arrow. */
export interface Bar {
  /** Start on the flat face, px. */
  readonly x: number;
  readonly y: number;
  /** Unit vector from the start along the bar, flat pixels (y down). */
  readonly alongX: number;
  readonly alongY: number;
  /** How much of a bar it is over its surroundings and over what lies behind its start, 0 to 1. */
  readonly bar: number;
  /** Length, mm of flat face. */
  readonly lengthMm: number;
  /** It runs out of the face: the length is a least one. */
  readonly runsOut: boolean;
  /** Log prior of an arrow that enters here being seen so. */
  readonly logPrior: number;
  /** Log-odds, up to a constant, of being an arrow. */
  readonly score: number;
}

/** How what lies behind the start of a bar is looked at. */
export type Behind = 'fan' | 'straight';

/** Directions tried. */
export const DIRECTIONS = 72;
/** Backward directions looked along while the direction is known roughly, radians. */
const FAN = [0, -0.12, 0.12, -0.25, 0.25];
/** Directions less likely than this, against the likeliest, are none for an arrow (log). */
const LEAST_DIRECTION = -9;
/** Which directions are likely changes slowly over the face: it is asked once in squares of so many shafts. */
const SQUARE_SHAFTS = 2;
/** Places looked at along each line behind a start. */
const BEHIND_STEPS = 4;
/** Log-odds per unit of `bar`. */
const BAR_WEIGHT = 12;
/** A prior lower than this says no more: leans and lengths have heavy tails. */
const LEAST_PRIOR = -12;

export interface BarScan {
  readonly shaftPx: number;
  readonly side: number;
  /** Bar map at a place, 0 outside the face. */
  readonly value: (x: number, y: number) => number;
  /** Least of the bar map at a place and so many pixels to either side of a direction there. */
  readonly valueAcross: (x: number, y: number, ux: number, uy: number, offPx: number) => number;
  /** Whether an arrow that enters hereabouts may be seen in the direction of this number. */
  readonly mayPoint: (x: number, y: number, direction: number) => boolean;
  /** The bar that starts at a place in a direction (radians, y down). */
  readonly look: (x: number, y: number, angle: number, behind: Behind) => Bar;
  /** Of the bars that start at a place, in any direction and whatever lies behind, the likeliest. */
  readonly likeliest: (x: number, y: number) => Bar;
  /** Only how much of a bar starts at a place in the direction of this number, a fan behind it. */
  readonly strength: (x: number, y: number, direction: number) => number;
}

/** Angle of a direction by its number, radians, y down. */
export function angleOf(direction: number): number {
  return (2 * Math.PI * direction) / DIRECTIONS;
}

/** Looks for bars in a map of what covers the face, with one value of 0 to 1 per flat pixel. */
export function barScan(view: SpotView, bars: Float32Array, fit: FaceFit): BarScan {
  const { flat, misfit, shaftMm } = view;
  const side = misfit.side;
  const shaft = shaftMm / flat.mmPerPx;
  const geometry = arrowGeometry(fit);
  /** Number of the pixel at a place, -1 outside the face. */
  const pixelAt = (x: number, y: number): number => {
    if (x < 1 || y < 1 || x >= side - 1 || y >= side - 1) return -1;
    const at = (y | 0) * side + (x | 0);
    return misfit.level[at] === 0 ? -1 : at;
  };
  const value = (x: number, y: number): number => {
    const at = pixelAt(x, y);
    return at < 0 ? 0 : bars[at]!;
  };
  const valueAcross = (x: number, y: number, ux: number, uy: number, offPx: number): number =>
    Math.min(
      value(x, y),
      value(x - offPx * uy, y + offPx * ux),
      value(x + offPx * uy, y - offPx * ux),
    );
  const sheetAt = (x: number, y: number) => spotToSheet(fit, flat.spot, flatToSpot(flat, [x, y]));

  /** What lies behind a start that is looked at: the most covered of several lines. */
  const beyondFan = (x: number, y: number, fan: Float64Array): number => {
    let most = 0;
    for (let i = 0; i < fan.length;) {
      let sum = 0;
      for (let s = 0; s < BEHIND_STEPS; s++, i += 2) sum += value(x + fan[i]!, y + fan[i + 1]!);
      most = Math.max(most, sum / BEHIND_STEPS);
    }
    return most;
  };

  /** As `beyondFan` straight on: a shadow leaves the middle line to one side, a shaft covers both. */
  const beyondStraight = (x: number, y: number, angle: number): number => {
    const ux = Math.cos(angle);
    const uy = Math.sin(angle);
    const off = BESIDE * shaft;
    let sum = 0;
    for (let s = 0; s < BEHIND_STEPS; s++) {
      const px = x - behindPx(s) * ux;
      const py = y - behindPx(s) * uy;
      sum += valueAcross(px, py, ux, uy, off);
    }
    return sum / BEHIND_STEPS;
  };
  const behindPx = (step: number): number => (1 + 0.4 * step) * shaft;

  /** Places behind a start, x and y from it, line by line. */
  const fanOf = (angle: number): Float64Array =>
    Float64Array.from(
      FAN.flatMap((turn) =>
        Array.from({ length: BEHIND_STEPS }, (_, step) => [
          -behindPx(step) * Math.cos(angle + turn),
          -behindPx(step) * Math.sin(angle + turn),
        ]).flat(),
      ),
    );
  const fans = Array.from({ length: DIRECTIONS }, (_, direction) => fanOf(angleOf(direction)));

  const beyondAt = (x: number, y: number, angle: number, behind: Behind): number =>
    behind === 'fan' ? beyondFan(x, y, fanOf(angle)) : beyondStraight(x, y, angle);

  const strengthBefore = (x: number, y: number, angle: number, beyond: number): number => {
    if (beyond > 0.8) return 0;
    const ux = Math.cos(angle);
    const uy = Math.sin(angle);
    const steps = 12;
    let middle = 0;
    let left = 0;
    let right = 0;
    for (let s = 0; s < steps; s++) {
      const d = (0.2 + (s * 6) / steps) * shaft;
      const px = x + d * ux;
      const py = y + d * uy;
      const near = 0.25 * shaft;
      middle +=
        (0.4 * value(px, py) +
          0.3 * value(px - near * uy, py + near * ux) +
          0.3 * value(px + near * uy, py - near * ux)) /
        steps;
      const off = shaft + 0.03 * d;
      left += value(px - off * uy, py + off * ux) / steps;
      right += value(px + off * uy, py - off * ux) / steps;
    }
    return middle - 0.5 * Math.min(left, right) - 0.2 * Math.max(left, right) - 0.6 * beyond;
  };

  /** How far a bar goes on, stepping over gaps shorter than a shaft and a half. */
  const runFrom = (x: number, y: number, angle: number): { px: number; runsOut: boolean } => {
    const ux = Math.cos(angle);
    const uy = Math.sin(angle);
    let last = 0;
    for (let d = 0; ; d += shaft / 4) {
      const px = x + d * ux;
      const py = y + d * uy;
      if (pixelAt(px, py) < 0) return { px: d, runsOut: true };
      // The shaft widens and bends a little away from the line: look a little to the sides.
      const off = shaft * (0.25 + 0.01 * (d / shaft));
      const there = Math.max(
        value(px, py),
        value(px - off * uy, py + off * ux),
        value(px + off * uy, py - off * ux),
      );
      if (there > 0.5) last = d;
      else if (d - last > 1.5 * shaft) return { px: last, runsOut: false };
    }
  };

  const squarePx = SQUARE_SHAFTS * shaft;
  const squares = Math.ceil(side / squarePx);
  /** For each square and direction: 0 not asked yet, 1 an arrow may point so, 2 it may not. */
  const asked = new Uint8Array(squares * squares * DIRECTIONS);
  const mayPoint = (x: number, y: number, direction: number): boolean => {
    const column = Math.floor(x / squarePx);
    const row = Math.floor(y / squarePx);
    const at = (row * squares + column) * DIRECTIONS + direction;
    if (asked[at] === 0) {
      const angle = angleOf(direction);
      const middle = sheetAt((column + 0.5) * squarePx, (row + 0.5) * squarePx);
      const prior = arrowPrior(geometry, middle, [Math.cos(angle), -Math.sin(angle)], {
        mm: 4 * shaftMm,
        atLeast: true,
      });
      asked[at] = prior < LEAST_DIRECTION ? 2 : 1;
    }
    return asked[at] === 1;
  };

  const scoreOf = (bar: number, logPrior: number): number =>
    BAR_WEIGHT * (bar - 0.5) + Math.max(LEAST_PRIOR, logPrior);
  /** The bar from a place in a direction, of which it is known how much of a bar it is. */
  const followed = (x: number, y: number, angle: number, bar: number): Bar => {
    const run = runFrom(x, y, angle);
    const lengthMm = run.px * flat.mmPerPx;
    const along = [Math.cos(angle), Math.sin(angle)] as const;
    const logPrior = arrowPrior(geometry, sheetAt(x, y), [along[0], -along[1]], {
      mm: lengthMm,
      atLeast: run.runsOut,
    });
    return {
      x,
      y,
      alongX: along[0],
      alongY: along[1],
      bar,
      lengthMm,
      runsOut: run.runsOut,
      logPrior,
      score: scoreOf(bar, logPrior),
    };
  };
  const likeliest = (x: number, y: number): Bar => {
    const [first, ...others] = Array.from({ length: DIRECTIONS }, (_, direction) => {
      const angle = angleOf(direction);
      return { angle, bar: strengthBefore(x, y, angle, 0) };
    }).sort((a, b) => b.bar - a.bar);
    let best = followed(x, y, first!.angle, first!.bar);
    for (const { angle, bar } of others) {
      // Not even the likeliest direction makes a weaker bar score more.
      if (scoreOf(bar, 0) <= best.score) break;
      const other = followed(x, y, angle, bar);
      if (other.score > best.score) best = other;
    }
    return best;
  };

  return {
    shaftPx: shaft,
    side,
    value,
    valueAcross,
    mayPoint,
    strength: (x, y, direction) =>
      strengthBefore(x, y, angleOf(direction), beyondFan(x, y, fans[direction]!)),
    look: (x, y, angle, behind) =>
      followed(x, y, angle, strengthBefore(x, y, angle, beyondAt(x, y, angle, behind))),
    likeliest,
  };
}
