import { betweenFlat } from '../flat-view/between-flat.ts';
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

/** Where a shaft enters and which way it goes, flat px. */
type Axis = Pick<RefinedEntry, 'x' | 'y' | 'alongX' | 'alongY'>;

/** Value of an image at a place of a shaft: `s` along it from the entry, `t` to its left, in shafts. */
type AlongShaft = (s: number, t: number) => number;

/** What is believed of an entry whose edges do not show, in shafts. */
const UNSEEN_SD = { across: 0.3, along: 0.5 };
/** Line and end are found from one another: after so many rounds neither moves. */
const ROUNDS = 3;
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
  start: Axis,
): RefinedEntry {
  const { side, odd } = misfit;
  const shaft = shaftMm / flat.mmPerPx;
  const oddAt = betweenFlat(odd, side);
  const barAt = betweenFlat(bars, side);
  let axis = start;
  let acrossSd = UNSEEN_SD.across;
  let alongSd = UNSEEN_SD.along;
  for (let round = 0; round < ROUNDS; round++) {
    const line = middleLine(alongShaft(oddAt, axis, shaft));
    if (line) {
      axis = onto(line, axis, shaft);
      acrossSd = line.sd;
    }
    const end = endOfBar(alongShaft(oddAt, axis, shaft), alongShaft(barAt, axis, shaft));
    if (end) {
      const move = (end.at + END_INSIDE) * shaft;
      axis = { ...axis, x: axis.x + axis.alongX * move, y: axis.y + axis.alongY * move };
      alongSd = end.sd;
    }
  }
  return { ...axis, acrossSd, alongSd };
}

function alongShaft(
  image: (x: number, y: number) => number,
  { x, y, alongX, alongY }: Axis,
  shaft: number,
): AlongShaft {
  return (s, t) =>
    image(x + s * shaft * alongX - alongY * t * shaft, y + s * shaft * alongY + alongX * t * shaft);
}

interface MiddleLine {
  /** To the left of the axis at the entry, in shafts. */
  readonly offset: number;
  /** Shafts to the left per shaft along it. */
  readonly slope: number;
  readonly sd: number;
}

/** The axis moved onto a line, and turned with it. */
function onto({ offset, slope }: MiddleLine, axis: Axis, shaft: number): Axis {
  const turned = Math.atan(slope);
  const { alongX, alongY } = axis;
  return {
    x: axis.x + -alongY * offset * shaft,
    y: axis.y + alongX * offset * shaft,
    alongX: alongX * Math.cos(turned) - alongY * Math.sin(turned),
    alongY: alongX * Math.sin(turned) + alongY * Math.cos(turned),
  };
}

/** Stretch of the shaft whose edges are looked at, in shafts from the entry: clear of its torn rim. */
const STRETCH = { from: 0.8, to: 8, step: 0.25 };
/** Of its places so many must show both edges, or there is no line. */
const LEAST_MIDDLES = 6;
/** A line through places a quarter of a shaft apart: about three next to one another err together. */
const ERR_TOGETHER = 3;
/** No line is known better than this, and none scatters less, in shafts. */
const LEAST_LINE_SD = 0.03;
const LEAST_SPREAD = 0.02;

/** Middle line between the shaft's edges. */
function middleLine(odd: AlongShaft): MiddleLine | null {
  const middles: Middle[] = [];
  for (let s = STRETCH.from; s <= STRETCH.to; s += STRETCH.step) {
    const t = middleAt((across) => odd(s, across));
    if (t !== null) middles.push({ s, t });
  }
  if (middles.length < LEAST_MIDDLES) return null;
  const line = lineThrough(middles);
  if (!line) return null;
  const { offset, slope, spread } = line;
  const sd = (2 * spread) / Math.sqrt(middles.length / ERR_TOGETHER);
  return { offset, slope, sd: Math.max(LEAST_LINE_SD, sd) };
}

/** Places across the shaft, in shafts: where its middle may lie, and its edges seen from there. */
const MIDDLE = { reach: 0.4, step: 0.1 };
const EDGE = { reach: 1.4, step: 0.05 };
/** Misfit, in levels, that noise and shade of bare paper do not reach. */
const LEAST_MISFIT = 6;
/** Widths that a bar of one shaft may seem to have, by shade on one side or light along the other. */
const LEAST_WIDTH = 0.45;
const MOST_WIDTH = 1.8;

/** Half-way between the edges on both sides of the strongest misfit; null where they do not show. */
function middleAt(odd: (across: number) => number): number | null {
  let peak = 0;
  let peakAt = 0;
  for (let t = -MIDDLE.reach; t <= MIDDLE.reach; t += MIDDLE.step) {
    const mean = (odd(t - MIDDLE.step) + odd(t) + odd(t + MIDDLE.step)) / 3;
    if (mean > peak) {
      peak = mean;
      peakAt = t;
    }
  }
  if (peak < LEAST_MISFIT) return null;
  /** Where the misfit falls to a half of its peak. */
  const edge = (direction: 1 | -1): number | null => {
    let before = peak;
    for (let t = EDGE.step; t <= EDGE.reach; t += EDGE.step) {
      const here = odd(peakAt + direction * t);
      if (here < peak / 2) {
        const part = (before - peak / 2) / Math.max(TINY, before - here);
        return peakAt + direction * (t - EDGE.step + EDGE.step * part);
      }
      before = here;
    }
    return null;
  };
  const left = edge(-1);
  const right = edge(1);
  if (left === null || right === null) return null;
  const width = right - left;
  return width > LEAST_WIDTH && width < MOST_WIDTH ? (left + right) / 2 : null;
}

/** Keeps a division by a difference of nothing finite. */
const TINY = 1e-6;

interface Middle {
  readonly s: number;
  readonly t: number;
}

/** Rounds of weighing; the weights settle in fewer. */
const WEIGHINGS = 8;
/** From the median of distances to a standard deviation, where these are normal. */
const MEDIAN_TO_SD = 1.4826;

/** Line through middles by Cauchy's weights, so that vanes and neighbours hardly pull; and their scatter. */
function lineThrough(
  middles: readonly Middle[],
): { offset: number; slope: number; spread: number } | null {
  let offset = 0;
  let slope = 0;
  let weights = middles.map(() => 1);
  let spread = 0;
  for (let i = 0; i < WEIGHINGS; i++) {
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
    const determinant = w * wss - ws * ws;
    if (Math.abs(determinant) < 1e-9) return null;
    slope = (w * wst - ws * wt) / determinant;
    offset = (wt - slope * ws) / w;
    const distances = middles.map(({ s, t }) => Math.abs(t - offset - slope * s));
    spread = Math.max(LEAST_SPREAD, MEDIAN_TO_SD * median([...distances]));
    weights = distances.map((distance) => 1 / (1 + (distance / (2 * spread)) ** 2));
  }
  return { offset, slope, spread };
}

/** Step along the shaft in which its end is looked for, and from where to where, in shafts. */
const END = { step: 0.05, from: 1.5, to: -4 };
/** Gaps shorter than this along the shaft are lines that it crosses, in shafts. */
const GAP = 0.5;
/** Evidence from which a place is more likely of a bar than not. */
const BAR = 0.5;
/** Stretches about the end by which the misfit's level on the shaft, and beyond it, is known. */
const ON_SHAFT = { from: 0.3, to: 1.2 };
const BEYOND = { from: -1.2, to: -0.4 };
/** So many levels the misfit must fall, or the end shows in the bars alone. */
const LEAST_FALL = 3;
/** The misfit falls within so much of the bar's end, and still is low so much farther back. */
const FALL = { reach: 0.8, stays: 0.2 };
/** How well an end is known that shows as a fall, as none that is clear, and as the bar's alone. */
const END_SD = { fall: 0.08, unclear: 0.2, barAlone: 0.3 };

/**
 * Where the bar ends going back along its middle line, in shafts from the start: first the gap that
 * is too long for a crossed line, then, there, the place where the misfit falls to a half.
 */
function endOfBar(odd: AlongShaft, bars: AlongShaft): { at: number; sd: number } | null {
  const last = lastOfBar(overWidth(bars));
  return last === null ? null : fallNear(last, overWidth(odd));
}

/** The least value over the width that a bar covers up to its rounded end. */
function overWidth(image: AlongShaft): (s: number) => number {
  return (s) => Math.min(...[-BESIDE, 0, BESIDE].map((t) => image(s, t)));
}

function lastOfBar(bar: (s: number) => number): number | null {
  let last: number | null = null;
  for (let s = END.from; s > END.to; s -= END.step) {
    if (bar(s) >= BAR) last = s;
    else if (last !== null && last - s > GAP) break;
  }
  return last;
}

function fallNear(last: number, odd: (s: number) => number): { at: number; sd: number } {
  const level = ({ from, to }: { from: number; to: number }): number => {
    const values: number[] = [];
    for (let s = last + from; s <= last + to; s += END.step) values.push(odd(s));
    return median(values);
  };
  const high = level(ON_SHAFT);
  const low = level(BEYOND);
  if (high < low + LEAST_FALL) return { at: last, sd: END_SD.barAlone };
  const half = (high + low) / 2;
  let before = odd(last + FALL.reach);
  for (let s = last + FALL.reach - END.step; s > last - FALL.reach; s -= END.step) {
    const here = odd(s);
    if (here < half && before >= half && odd(s - FALL.stays) < half) {
      const part = (before - half) / Math.max(TINY, before - here);
      return { at: s + END.step - END.step * part, sd: END_SD.fall };
    }
    before = here;
  }
  return { at: last, sd: END_SD.unclear };
}

/** The upper one of two middle values; sorts the values. */
function median(values: number[]): number {
  values.sort((a, b) => a - b);
  return values[values.length >> 1] ?? 0;
}
