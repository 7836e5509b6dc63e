import type { SpotView } from '../flat-view/spot-view.ts';
import { BESIDE } from './arrow-geometry.ts';

export interface RefinedEntry {
  /** Where the axis meets the paper, flat px. */
  readonly x: number;
  readonly y: number;
  /** Unit vector from the entry to the nock, flat px. */
  readonly alongX: number;
  readonly alongY: number;
  /** One-sigma uncertainty across and along the shaft, in shaft diameters. */
  readonly acrossSd: number;
  readonly alongSd: number;
}

/** Stretch of the shaft whose edges are looked at, in shaft diameters from the entry. */
const FROM = 0.8;
const TO = 8;
const STEP = 0.25;
/**
 * From where the bar ends BESIDE its middle line to the axis: the disc's half chord there, and the
 * torn rim that lies against the shaft (about a tenth of it).
 */
const END_INSIDE = Math.sqrt(0.25 - BESIDE * BESIDE) + 0.1;

/**
 * Places an entry by the shaft's own edges: the middle line between both edges, followed back to
 * where it ends on the paper. What ends there is the disc that the shaft cuts out of the paper, so
 * the axis lies half a chord of it inside the end.
 */
export function refineEntry(
  { misfit, flat }: SpotView,
  bars: Float32Array,
  shaftMm: number,
  start: Pick<RefinedEntry, 'x' | 'y' | 'alongX' | 'alongY'>,
): RefinedEntry {
  const { side, odd } = misfit;
  const shaft = shaftMm / flat.mmPerPx;
  const sample = betweenFlat(odd, side);
  const sampleBar = betweenFlat(bars, side);
  let { x, y, alongX: ux, alongY: uy } = start;
  let acrossSd = 0.3;
  let alongSd = 0.5;
  for (let pass = 0; pass < 3; pass++) {
    const axis = axisOffsets(sample, x, y, ux, uy, shaft);
    if (axis) {
      // Move onto the line and turn with it.
      x += -uy * axis.offset * shaft;
      y += ux * axis.offset * shaft;
      const turned = Math.atan(axis.slope);
      [ux, uy] = [
        ux * Math.cos(turned) - uy * Math.sin(turned),
        ux * Math.sin(turned) + uy * Math.cos(turned),
      ];
      acrossSd = axis.sd;
    }
    const end = endAlong(sample, sampleBar, x, y, ux, uy, shaft);
    if (end) {
      const move = (end.at + END_INSIDE) * shaft;
      x += ux * move;
      y += uy * move;
      alongSd = end.sd;
    }
  }
  return { x, y, alongX: ux, alongY: uy, acrossSd, alongSd };
}

/** Value of an image of flat pixels at a place between them; 0 beyond its rim. */
export function betweenFlat(image: Float32Array, side: number): (x: number, y: number) => number {
  return (x, y) => {
    const u = x - 0.5;
    const v = y - 0.5;
    const i = Math.floor(u);
    const j = Math.floor(v);
    if (i < 0 || j < 0 || i >= side - 1 || j >= side - 1) return 0;
    const a = u - i;
    const b = v - j;
    const at = j * side + i;
    return (
      (image[at]! * (1 - a) + image[at + 1]! * a) * (1 - b) +
      (image[at + side]! * (1 - a) + image[at + side + 1]! * a) * b
    );
  };
}

/** Middle line between the edges: offset to the left normal at the start, and slope, in shafts. */
function axisOffsets(
  sample: (x: number, y: number) => number,
  x: number,
  y: number,
  ux: number,
  uy: number,
  shaft: number,
): { offset: number; slope: number; sd: number } | null {
  const middles: { s: number; t: number }[] = [];
  for (let s = FROM; s <= TO; s += STEP) {
    const cx = x + s * shaft * ux;
    const cy = y + s * shaft * uy;
    const at = (t: number) => sample(cx - uy * t * shaft, cy + ux * t * shaft);
    let peak = 0;
    let peakT = 0;
    for (let t = -0.4; t <= 0.4; t += 0.1) {
      const v = (at(t - 0.1) + at(t) + at(t + 0.1)) / 3;
      if (v > peak) {
        peak = v;
        peakT = t;
      }
    }
    if (peak < 6) continue;
    const edge = (direction: 1 | -1): number | null => {
      let previous = peak;
      for (let t = 0.05; t <= 1.4; t += 0.05) {
        const v = at(peakT + direction * t);
        if (v < peak / 2) {
          const part = (previous - peak / 2) / Math.max(1e-6, previous - v);
          return peakT + direction * (t - 0.05 + 0.05 * part);
        }
        previous = v;
      }
      return null;
    };
    const left = edge(-1);
    const right = edge(1);
    if (left !== null && right !== null && right - left > 0.45 && right - left < 1.8) {
      middles.push({ s, t: (left + right) / 2 });
    }
  }
  if (middles.length < 6) return null;
  let offset = 0;
  let slope = 0;
  let weights = middles.map(() => 1);
  let spread = 0.2;
  for (let i = 0; i < 8; i++) {
    let w = 0;
    let ws = 0;
    let wt = 0;
    let wss = 0;
    let wst = 0;
    middles.forEach(({ s, t }, k) => {
      const q = weights[k]!;
      w += q;
      ws += q * s;
      wt += q * t;
      wss += q * s * s;
      wst += q * s * t;
    });
    const det = w * wss - ws * ws;
    if (Math.abs(det) < 1e-9) return null;
    slope = (w * wst - ws * wt) / det;
    offset = (wt - slope * ws) / w;
    const residuals = middles.map(({ s, t }) => Math.abs(t - offset - slope * s));
    const sorted = [...residuals].sort((a, b) => a - b);
    spread = Math.max(0.02, 1.4826 * sorted[sorted.length >> 1]!);
    weights = residuals.map((r) => 1 / (1 + (r / (2 * spread)) ** 2));
  }
  return { offset, slope, sd: Math.max(0.03, (2 * spread) / Math.sqrt(middles.length / 3)) };
}

/** Gaps shorter than this along the shaft are lines that it crosses, in shafts. */
const GAP = 0.5;

/**
 * Where the bar ends going back along its middle line, in shafts from the start: first the gap that
 * is too long for a crossed line, then, there, the place where the misfit falls to a half.
 */
function endAlong(
  sample: (x: number, y: number) => number,
  sampleBar: (x: number, y: number) => number,
  x: number,
  y: number,
  ux: number,
  uy: number,
  shaft: number,
): { at: number; sd: number } | null {
  const step = 0.05;
  const at = (get: (x: number, y: number) => number, s: number): number =>
    Math.min(
      ...[-BESIDE, 0, BESIDE].map((t) =>
        get(x + s * shaft * ux - uy * t * shaft, y + s * shaft * uy + ux * t * shaft),
      ),
    );
  let last: number | null = null;
  for (let s = 1.5; s > -4; s -= step) {
    if (at(sampleBar, s) >= 0.5) last = s;
    else if (last !== null && last - s > GAP) break;
  }
  if (last === null) return null;
  const inside: number[] = [];
  for (let s = last + 0.3; s <= last + 1.2; s += step) inside.push(at(sample, s));
  const outside: number[] = [];
  for (let s = last - 1.2; s <= last - 0.4; s += step) outside.push(at(sample, s));
  const high = median(inside);
  const low = median(outside);
  if (high < low + 3) return { at: last, sd: 0.3 };
  const half = (high + low) / 2;
  let previous = at(sample, last + 0.8);
  for (let s = last + 0.8 - step; s > last - 0.8; s -= step) {
    const v = at(sample, s);
    if (v < half && previous >= half && at(sample, s - 0.2) < half) {
      const part = (previous - half) / Math.max(1e-6, previous - v);
      return { at: s + step - step * part, sd: 0.08 };
    }
    previous = v;
  }
  return { at: last, sd: 0.2 };
}

function median(values: number[]): number {
  values.sort((a, b) => a - b);
  return values[values.length >> 1] ?? 0;
}
