import type { FlatFace } from '../../fit/flat/flatten.ts';
import { betweenPixels } from '../../raster/between-pixels.ts';
import { pixelWords } from '../../raster/pixel-words.ts';
import { runningMedian } from './running-median.ts';

/** What a face without marks would look like, and how the photo departs from it. */
export interface Misfit {
  readonly side: number;
  /** Expected grey level less the one seen: positive where it is too dark. */
  readonly dark: Float32Array;
  /** Root mean square distance of the colour from the expected one, over the three channels. */
  readonly odd: Float32Array;
  /** Expected grey level. */
  readonly level: Float32Array;
}

/** Colours between pixels are only wanted for their median. */
const WEIGHT_BITS = 7;
/** Half of the arc a point is compared with, in shaft diameters. */
const ARC_SHAFTS = 4;
/** Along a circle the face hardly changes, so it is looked at in every so many pixels. */
const ARC_STEP_PX = 2;

/**
 * Everything printed on a spot but its numbers is the same all the way round: zones, lines of
 * whatever width and colour, dark rims of the print. So a point is expected to look like the median
 * of its neighbours on the circle through it. A median keeps the steps of hard shadows and follows
 * the light; what is narrower than half the arc (holes, shafts, numbers) does not move it.
 *
 * @param limitMm Beyond this distance from the centre nothing is expected and nothing departs.
 */
export function misfitOf(flat: FlatFace, shaftMm: number, limitMm: number): Misfit {
  const side = flat.raster.width;
  const words = pixelWords(flat.raster);
  const { seen, mmPerPx } = flat;
  const centre = side / 2;
  const rows = Math.min(Math.floor(limitMm / mmPerPx), Math.floor(centre) - 2);
  const reach = Math.max(6, Math.round((ARC_SHAFTS * shaftMm) / mmPerPx / ARC_STEP_PX));
  const pooled = Math.ceil(shaftMm / mmPerPx);

  const offsets = new Int32Array(rows + 2);
  for (let i = 0; i <= rows; i++) {
    offsets[i + 1] = offsets[i]! + Math.max(8, Math.round((2 * Math.PI * (i + 0.5)) / ARC_STEP_PX));
  }
  const size = offsets[rows + 1]!;
  const expected = [new Uint8Array(size), new Uint8Array(size), new Uint8Array(size)];
  const longest = offsets[rows + 1]! - offsets[rows]!;
  const row = [new Uint8Array(longest), new Uint8Array(longest), new Uint8Array(longest)] as const;
  const known = new Uint8Array(longest);

  for (let i = 0; i <= rows; i++) {
    const length = offsets[i + 1]! - offsets[i]!;
    coloursOnCircle({ words, seen, side }, i + 0.5, length, row, known);
    for (let c = 0; c < 3; c++) {
      const out = expected[c]!.subarray(offsets[i], offsets[i + 1]);
      runningMedian(row[c]!, known, length, reach, out);
    }
  }
  poolCentre(expected, offsets, Math.min(pooled, rows));

  const dark = new Float32Array(side * side);
  const odd = new Float32Array(side * side);
  const level = new Float32Array(side * side);
  const misfit: Misfit = { side, dark, odd, level };
  const circles: Circles = { rows, offsets, expected: packedWords(expected) };
  const half = (side + 1) >> 1;
  const places: RowPlaces = {
    inner: new Int32Array(half),
    outward: new Float64Array(half),
    quarter: new Float64Array(half),
  };
  // What lies in the four quarters of the picture the same way from its centre shares its places.
  for (let y = 0; y < half; y++) {
    const count = placesOnRow(centre - (y + 0.5), rows, side, places);
    for (const row of [y, side - 1 - y]) {
      for (const turn of row > y ? LOWER : UPPER) {
        departOnHalfRow(row, turn, places, count, misfit, circles, words, seen);
      }
    }
  }
  return misfit;
}

/** Red, green and blue of each place as one number. */
function packedWords([red, green, blue]: readonly Uint8Array[]): Uint32Array {
  const words = new Uint32Array(red!.length);
  for (let i = 0; i < words.length; i++)
    words[i] = red![i]! | (green![i]! << 8) | (blue![i]! << 16);
  return words;
}

/** Reads the colours of a circle about the centre, counter-clockwise from the right; all of it lies within the picture. */
function coloursOnCircle(
  { words, seen, side }: { words: Uint32Array; seen: Uint8Array; side: number },
  radius: number,
  length: number,
  [reds, greens, blues]: readonly [Uint8Array, Uint8Array, Uint8Array],
  known: Uint8Array,
): void {
  const centre = side / 2;
  const step = (2 * Math.PI) / length;
  const turnCos = Math.cos(step);
  const turnSin = Math.sin(step);
  let cos = 1;
  let sin = 0;
  for (let j = 0; j < length; j++) {
    const x = centre + radius * cos - 0.5;
    const y = centre - radius * sin - 0.5;
    const nextCos = cos * turnCos - sin * turnSin;
    sin = sin * turnCos + cos * turnSin;
    cos = nextCos;
    const at = (y | 0) * side + (x | 0);
    if (!seen[at] || !seen[at + side + 1]) {
      known[j] = 0;
      continue;
    }
    known[j] = 1;
    const word = betweenPixels(words, side, x, y, WEIGHT_BITS);
    reds[j] = word & 0xff;
    greens[j] = (word >>> 8) & 0xff;
    blues[j] = (word >>> 16) & 0xff;
  }
}

/** Expected colours on circles about the centre, a pixel apart. */
interface Circles {
  /** Number of circles but one. */
  readonly rows: number;
  /** First place of each circle, and after the last one. */
  readonly offsets: Int32Array;
  /** Colour at each place, red in the lowest byte. */
  readonly expected: Uint32Array;
}

/** Where the pixels of half a row lie about the centre, from the middle of the row outwards. */
interface RowPlaces {
  /** The circle at or within the pixel, and how much of the way to the next one it lies. */
  readonly inner: Int32Array;
  readonly outward: Float64Array;
  /** Angle from the horizontal as a part of a turn, 0 to a quarter. */
  readonly quarter: Float64Array;
}

/** How the angle of a pixel in a quarter of the picture, as a part of a turn, follows from that from the horizontal. */
interface QuarterTurn {
  readonly from: number;
  readonly sign: 1 | -1;
  /** Which way the row goes on. */
  readonly step: 1 | -1;
}

/** To the right of the centre and to the left. */
const UPPER: readonly QuarterTurn[] = [
  { from: 0, sign: 1, step: 1 },
  { from: 0.5, sign: -1, step: -1 },
];
const LOWER: readonly QuarterTurn[] = [
  { from: 1, sign: -1, step: 1 },
  { from: 0.5, sign: 1, step: -1 },
];

/**
 * Finds where the pixels of half a row lie.
 *
 * @param dy From the centre to the row, not negative.
 * @returns how many of them lie within the circles
 */
function placesOnRow(
  dy: number,
  rows: number,
  side: number,
  { inner, outward, quarter }: RowPlaces,
): number {
  const first = side % 2 === 0 ? 0.5 : 0;
  for (let i = 0; i < inner.length; i++) {
    const dx = first + i;
    const radius = Math.sqrt(dx * dx + dy * dy) - 0.5;
    if (radius >= rows) return i;
    const within = radius > 0 ? radius | 0 : 0;
    inner[i] = within;
    outward[i] = radius > 0 ? radius - within : 0;
    quarter[i] = quarterTurnOf(dx, dy);
  }
  return inner.length;
}

/** Writes how half a row of the picture departs; a function of its own, which is compiled well once for all rows. */
function departOnHalfRow(
  y: number,
  { from, sign, step }: QuarterTurn,
  { inner, outward, quarter }: RowPlaces,
  count: number,
  { side, dark, odd, level }: Misfit,
  { offsets, expected }: Circles,
  words: Uint32Array,
  seen: Uint8Array,
): void {
  let at = y * side + (step > 0 ? side >> 1 : (side - 1) >> 1);
  for (let i = 0; i < count; i++, at += step) {
    if (!seen[at]) continue;
    const circle = inner[i]!;
    const outer = outward[i]!;
    const turn = from + sign * quarter[i]!;
    const outerStart = offsets[circle + 1]!;
    const a = expected[nearestOnRing(turn, offsets[circle]!, outerStart)]! | 0;
    const b = expected[nearestOnRing(turn, outerStart, offsets[circle + 2]!)]! | 0;
    const a0 = a & 0xff;
    const a1 = (a >> 8) & 0xff;
    const a2 = a >> 16;
    const e0 = a0 + ((b & 0xff) - a0) * outer;
    const e1 = a1 + (((b >> 8) & 0xff) - a1) * outer;
    const e2 = a2 + ((b >> 16) - a2) * outer;
    const word = words[at]! | 0;
    const d0 = e0 - (word & 0xff);
    const d1 = e1 - ((word >>> 8) & 0xff);
    const d2 = e2 - ((word >>> 16) & 0xff);
    dark[at] = (d0 + d1 + d2) * THIRD;
    odd[at] = Math.sqrt((d0 * d0 + d1 * d1 + d2 * d2) * THIRD);
    level[at] = (e0 + e1 + e2) * THIRD;
  }
}

const THIRD = 1 / 3;

/** The place, of a circle's from `start` to before `stop`, that is nearest to a part of a turn. */
function nearestOnRing(turn: number, start: number, stop: number): number {
  const at = start + ((turn * (stop - start) + 0.5) | 0);
  return at < stop ? at : start;
}

/**
 * Angle of (x, y), neither negative, from the horizontal as a part of a turn, within 2e-6 (Abramowitz and
 * Stegun 4.4.47): a tenth of the arc between neighbours on the longest circle, and many times faster than
 * the exact one.
 */
function quarterTurnOf(x: number, y: number): number {
  const q = x > y ? y / x : y > 0 ? x / y : 0;
  const q2 = q * q;
  const near =
    (q * (0.999866 + q2 * (-0.3302995 + q2 * (0.180141 + q2 * (-0.085133 + q2 * 0.0208351))))) /
    (2 * Math.PI);
  return x > y ? near : 0.25 - near;
}

/** Circles too small to hold a hole as a minority share the median of the disc they make up. */
function poolCentre(expected: Uint8Array[], offsets: Int32Array, rows: number): void {
  const end = offsets[rows]!;
  for (const plane of expected) {
    const sorted = plane.slice(0, offsets[Math.min(offsets.length - 1, rows + (rows >> 1))]).sort();
    if (sorted.length > 0) plane.fill(sorted[sorted.length >> 1]!, 0, end);
  }
}
