import { boxBlur } from '../flat-view/box-blur.ts';
import type { ShaftMap } from './shaft-map.ts';
import { eachLive, sumsAhead } from './sums-ahead.ts';

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
  if (!covered.some((value) => value > 0.5)) return [];
  const core = boxBlur(covered, width, Math.max(1, Math.round(0.3 * map.part * shaft)));
  const ahead = sumsAhead(map, core);
  const [byRows, byColumns] = [bestOf(covered.length), bestOf(covered.length)];
  let cellOfColumns = (x: number, y: number): number => y * width + x;
  // Either end of a strip is its start: half of the directions tell all.
  for (let k = 0; k < DIRECTIONS / 2; k++) {
    const directed = ahead((2 * Math.PI * k) / DIRECTIONS, 1);
    if (!directed.byRows) cellOfColumns = directed.at;
    const { value, direction } = directed.byRows ? byRows : byColumns;
    const { sums } = directed;
    eachLive(directed, (from, to) => {
      for (let at = from; at < to; at++) {
        if (sums[at]! > value[at]!) {
          value[at] = sums[at]!;
          direction[at] = k;
        }
      }
    });
  }
  const order: number[] = [];
  const { value: best, direction } = byRows;
  const least = (LEAST_GAIN * shaft) / 4;
  for (let y = 0, at = 0; y < height; y++) {
    for (let x = 0; x < width; x++, at++) {
      if (!(covered[at]! > 0.5)) continue;
      const other = cellOfColumns(x, y);
      const more = byColumns.value[other]! - best[at]!;
      if (more > 0 || (more === 0 && byColumns.direction[other]! < direction[at]!)) {
        best[at] = byColumns.value[other]!;
        direction[at] = byColumns.direction[other]!;
      }
      if (best[at]! >= least) order.push(at);
    }
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

/** Room for the largest of a cell's sums ahead so far, and the number of its direction. */
function bestOf(cells: number): { value: Float32Array; direction: Int16Array } {
  return { value: new Float32Array(cells), direction: new Int16Array(cells) };
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
