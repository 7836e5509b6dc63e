import { boxBlur } from '../flat-view/box-blur.ts';
import type { ShaftMap } from './shaft-map.ts';

/** A straight strip of a shaft map; which of its ends is which is not told. Cells. */
export interface Strip {
  readonly x: number;
  readonly y: number;
  /** Direction from the start, radians, y down. */
  readonly angle: number;
  /** Change of the width over a length, both in cells: 0 where it stays a shaft's. */
  readonly taper: number;
  readonly length: number;
  /**
   * Area that it explains of the map and nothing else does, less the area that it claims in vain, in
   * squares of a shaft.
   */
  readonly gain: number;
  /** It ends where the picture does. */
  readonly runsOut: boolean;
}

/** Directions in which strips are looked for, all round. */
export const DIRECTIONS = 96;
/** A strip explains at least so much by itself, in squares of a shaft. */
const LEAST_GAIN = 3;
/** Most strips looked for: they only tell where the camera was. */
const MOST_STRIPS = 24;
/** Strips are widest and narrowest, in shafts. */
const WIDEST = 5;
const NARROWEST = 0.6;
/** Beside a strip the map is blurred so far, in shafts: that is explained as well. */
const HALO = 0.35;
/** A strip goes on behind a gap that costs less than this, in squares of a shaft. */
const LONGEST_GAP = 8;

type Start = Pick<Strip, 'x' | 'y' | 'angle' | 'taper'>;
type Queued = Start & { readonly gain: number };

/** Fewest straight strips that explain a shaft map, about the largest first. */
export function findStrips(map: ShaftMap): Strip[] {
  const unexplained = new Float32Array(map.covered.length).fill(1);
  const queue = startsOfStrips(map);
  const strips: Strip[] = [];
  // What a strip explains only shrinks as others explain their part: who is still first after being
  // weighed again is the largest of all.
  while (queue.length > 0 && strips.length < MOST_STRIPS) {
    const first = queue.shift()!;
    const now = weigh(map, unexplained, first);
    if (now.gain < LEAST_GAIN) continue;
    if (queue[0] && now.gain < queue[0].gain) {
      insert(queue, { ...first, gain: now.gain });
      continue;
    }
    const fitted = fitStrip(map, unexplained, now);
    strips.push(fitted);
    explain(map, unexplained, fitted);
  }
  return strips;
}

function insert(queue: Queued[], start: Queued): void {
  let low = 0;
  let high = queue.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (queue[middle]!.gain >= start.gain) low = middle + 1;
    else high = middle;
  }
  queue.splice(low, 0, start);
}

/** Places and directions in which strips may start, by what lies ahead. */
function startsOfStrips(map: ShaftMap): Queued[] {
  const { width, height, shaft, covered } = map;
  const core = boxBlur(covered, width, Math.max(1, Math.round(0.3 * map.part * shaft)));
  const best = new Float32Array(width * height);
  const direction = new Int16Array(width * height);
  const ahead = new Float32Array(width * height);
  const where = partWhere(map, (at) => core[at]! > 0.5 || covered[at]! > 0.5);
  // Either end of a strip is its start: half of the directions tell all.
  for (let k = 0; k < DIRECTIONS / 2; k++) {
    sumAhead(map, core, where, (2 * Math.PI * k) / DIRECTIONS, ahead, 1);
    for (let at = 0; at < ahead.length; at++) {
      if (ahead[at]! > best[at]!) {
        best[at] = ahead[at]!;
        direction[at] = k;
      }
    }
  }
  const order: number[] = [];
  const least = (LEAST_GAIN * shaft) / 4;
  for (let at = 0; at < best.length; at++) {
    if (best[at]! >= least && covered[at]! > 0.5) order.push(at);
  }
  order.sort((a, b) => best[b]! - best[a]!);
  // Of neighbours with about the same line ahead the one with most of it is enough.
  const taken = new Map<number, number[]>();
  const apart = Math.max(1, 0.6 * shaft);
  const queue: Queued[] = [];
  for (const at of order) {
    const x = at % width;
    const y = (at / width) | 0;
    const cell = Math.floor(y / apart) * 4096 + Math.floor(x / apart);
    const here = taken.get(cell);
    const k = direction[at]!;
    if (here?.some((other) => Math.abs(other - k) <= 2)) continue;
    if (here) here.push(k);
    else taken.set(cell, [k]);
    const angle = (2 * Math.PI * k) / DIRECTIONS;
    queue.push({ x: x + 0.5, y: y + 0.5, angle, taper: 0, gain: (4 * best[at]!) / shaft });
  }
  return queue;
}

/** A part of a map, cells: its first row and column, and those after its last. */
export interface Part {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** The smallest part of a map that holds all cells of which this is true. */
export function partWhere(
  { width, height }: Pick<ShaftMap, 'width' | 'height'>,
  holds: (at: number) => boolean,
): Part {
  let [left, top, right, bottom] = [width, height, 0, 0];
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (!holds(y * width + x)) continue;
      left = Math.min(left, x);
      right = Math.max(right, x + 1);
      top = Math.min(top, y);
      bottom = Math.max(bottom, y + 1);
    }
  }
  return { left, top, right, bottom };
}

/**
 * For each cell of a part the sum of `core` less a half along a line ahead, as far as it pays. A line
 * goes on in the same quarter of directions: having left the part it never comes back, so that a part
 * which holds everything above a half has the sums of the whole map.
 * @param core one value for each cell
 * @param angle direction of the line, radians, y down
 * @param out one value for each cell; 0 outside the part, where it is neither looked at nor changed
 * @param horizon what a cell further on counts less for each cell's length; 1 for all alike
 */
export function sumAhead(
  { width, height }: Pick<ShaftMap, 'width' | 'height'>,
  core: Float32Array,
  part: Part,
  angle: number,
  out: Float32Array,
  horizon: number,
): void {
  const ux = Math.cos(angle);
  const uy = Math.sin(angle);
  const byRows = Math.abs(uy) >= Math.abs(ux);
  const [along, across] = byRows ? [uy, ux] : [ux, uy];
  const step = 1 / Math.abs(along);
  const fade = horizon ** step;
  const shift = across * step;
  const whole = Math.floor(shift);
  const share = shift - whole;
  const next = along > 0 ? 1 : -1;
  const [lines, cells] = byRows ? [height, width] : [width, height];
  const [lineStride, cellStride] = byRows ? [width, 1] : [1, width];
  const [firstLine, lastLine, first, last] = byRows
    ? [part.top, part.bottom, part.left, part.right]
    : [part.left, part.right, part.top, part.bottom];
  // From these both cells ahead lie in the map; others have nothing ahead.
  const from = Math.min(last, Math.max(first, -whole));
  const to = Math.max(from, Math.min(last, cells - 1 - whole));
  const alone = (line: number, begin: number, end: number): void => {
    for (let cell = begin; cell < end; cell++) {
      const at = line * lineStride + cell * cellStride;
      out[at] = Math.max(0, (core[at]! - 0.5) * step);
    }
  };
  for (let n = 0; n < lastLine - firstLine; n++) {
    const line = next > 0 ? lastLine - 1 - n : firstLine + n;
    const beyond = line + next;
    if (beyond < 0 || beyond >= lines) {
      alone(line, first, last);
      continue;
    }
    alone(line, first, from);
    let at = line * lineStride + from * cellStride;
    let ahead = beyond * lineStride + (from + whole) * cellStride;
    let far = out[ahead]!;
    for (let cell = from; cell < to; cell++) {
      const near = far;
      ahead += cellStride;
      far = out[ahead]!;
      const sum = (core[at]! - 0.5) * step + fade * (near + (far - near) * share);
      out[at] = sum > 0 ? sum : 0;
      at += cellStride;
    }
    alone(line, to, last);
  }
}

/** How much a strip explains from its start on, and how far it goes. */
function weigh(map: ShaftMap, unexplained: Float32Array, start: Start): Strip {
  const { width, height, shaft, covered, part, seen } = map;
  const ux = Math.cos(start.angle);
  const uy = Math.sin(start.angle);
  const step = Math.max(1, shaft / 3);
  const square = shaft * shaft;
  let sum = 0;
  let best = 0;
  let length = 0;
  let runsOut = false;
  for (let d = 0; ; d += step) {
    const wide = widthAt(shaft, start.taper, d);
    const samples = Math.max(3, Math.round(wide / step));
    let here = 0;
    let outside = 0;
    for (let k = 0; k < samples; k++) {
      // The outermost samples lie well inside: edges of a map are blurred.
      const t = ((k + 0.5) / samples - 0.5) * wide * 0.85 * part;
      const i = Math.floor(start.x + d * ux - t * uy);
      const j = Math.floor(start.y + d * uy + t * ux);
      const at = j * width + i;
      if (i < 0 || j < 0 || i >= width || j >= height || !seen[at]) {
        outside++;
        continue;
      }
      const value = covered[at]! - 0.5;
      here += value > 0 ? value * unexplained[at]! : value;
    }
    if (outside * 2 > samples) {
      runsOut = d - length < 2 * shaft;
      break;
    }
    sum += (2 * wide * step * here) / samples / square;
    if (sum > best) {
      best = sum;
      length = d;
    } else if (sum < best - LONGEST_GAP) break;
  }
  return { ...start, length, gain: best, runsOut };
}

/** Width of a strip at a distance from its start. */
export function widthAt(shaft: number, taper: number, distance: number): number {
  return Math.min(WIDEST * shaft, Math.max(NARROWEST * shaft, shaft + taper * distance));
}

type Step = readonly [along: number, across: number, turn: number, taper: number];

/** Steps to the side, and turns about either end. */
export const TURNS: readonly Step[] = [
  [0, 1, 0, 0],
  [0, -1, 0, 0],
  [0, 0, 1, 0],
  [0, 0, -1, 0],
  [0, 1, -1, 0],
  [0, -1, 1, 0],
];
export const LONG_STEPS: readonly Step[] = [
  [-2, 0, 0, 0],
  [2, 0, 0, 0],
];
export const TAPERS: readonly Step[] = [
  [0, 0, 0, 1],
  [0, 0, 0, -1],
];

/** Steps tried when a strip is fitted. */
const MOVES = [...TURNS, ...LONG_STEPS, ...TAPERS];

/** The strip near a given one that explains most. */
function fitStrip(map: ShaftMap, unexplained: Float32Array, start: Strip): Strip {
  let best = start;
  let turn = Math.PI / DIRECTIONS;
  let aside = 0.4 * map.shaft;
  let taper = 0.02;
  for (let round = 0; round < 3; round++) {
    for (let pass = 0; pass < 3; pass++) {
      const from = best;
      const ux = Math.cos(from.angle);
      const uy = Math.sin(from.angle);
      for (const [along, across, turned, tapered] of MOVES) {
        const tried = weigh(map, unexplained, {
          x: from.x + aside * (along * ux - across * uy),
          y: from.y + aside * (along * uy + across * ux),
          angle: from.angle + turned * turn,
          taper: from.taper + tapered * taper,
        });
        if (tried.gain > best.gain) best = tried;
      }
      if (best === from) break;
    }
    turn /= 2;
    aside /= 2;
    taper /= 2;
  }
  return best;
}

/** Marks what a strip explains. */
function explain(map: ShaftMap, unexplained: Float32Array, strip: Strip): void {
  const { width, height, shaft } = map;
  const ux = Math.cos(strip.angle);
  const uy = Math.sin(strip.angle);
  for (let d = -HALO * shaft; d <= strip.length + HALO * shaft; d += 0.5) {
    const half = widthAt(shaft, strip.taper, Math.max(0, d)) / 2 + HALO * shaft;
    for (let t = -half; t <= half; t += 0.5) {
      const i = Math.floor(strip.x + d * ux - t * uy);
      const j = Math.floor(strip.y + d * uy + t * ux);
      if (i >= 0 && j >= 0 && i < width && j < height) unexplained[j * width + i] = 0;
    }
  }
}
