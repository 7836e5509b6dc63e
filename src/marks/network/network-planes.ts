import { FACES, type Face } from '../../face/faces.ts';
import { flatToSpot, type FlatFace } from '../../fit/flat/flatten.ts';
import type { FaceFit } from '../../fit/camera/face-fit.ts';
import { cameraOverSheet, spotToSheet } from '../../fit/camera/project.ts';
import { pixelWords } from '../../raster/pixel-words.ts';
import type { Raster } from '../../raster/raster.ts';

/** Input planes of the network; the training's `model.py` describes the same order. */
export const INPUT_PLANES = 7;

/** Shaft width in flat pixels at which the scale plane is 0. */
const REFERENCE_SHAFT_PX = 8;

/** Width of a printed dividing line; a published rule allows up to 2 mm, prints show about 1. */
const LINE_MM = 1;

/** What is believed of what a flat face shows. */
export interface PlanesContext {
  readonly fit: FaceFit;
  /** Diameter of the shafts, mm. */
  readonly shaftMm: number;
  /** Foot of the camera on the sheet and its height over it, mm, where more than the fit tells it. */
  readonly camera?: readonly [number, number, number];
}

/** A window of the flat face, seen at `pxPerStep` flat pixels per network pixel. */
export interface Window {
  /** Top-left corner in flat pixels; may lie outside the picture. */
  readonly leftPx: number;
  readonly topPx: number;
  /** In network pixels. */
  readonly width: number;
  readonly height: number;
  readonly pxPerStep: number;
}

/** Ring radii with a printed line, mm, at the middle of the line. */
function lineRadiiMm(face: Face): Float64Array {
  const radii = face.zones
    .filter((zone) => zone.line !== null)
    .map((zone) => zone.outerRadiusMm - LINE_MM / 2);
  if (face.innerRadiusMm !== null) radii.push(face.innerRadiusMm - LINE_MM / 2);
  return Float64Array.from(radii.sort((a, b) => a - b));
}

/**
 * Writes the network's input planes for a window of the flat face into `planes`
 * (INPUT_PLANES * width * height): colour, printed lines, image of the normal, scale. Outside the
 * picture the colour is that of its nearest pixel.
 */
export function fillPlanes(
  planes: Float32Array,
  flat: FlatFace,
  { fit, shaftMm, camera = cameraOverSheet(fit) }: PlanesContext,
  window: Window,
): void {
  const { width, height, pxPerStep, leftPx, topPx } = window;
  const count = width * height;
  const face = FACES[fit.face];
  const radii = lineRadiiMm(face);
  const mmPerStep = flat.mmPerPx * pxPerStep;
  const shaftSteps = shaftMm / mmPerStep;
  const [cameraX, cameraY, cameraHeight] = camera;

  // Printed lines vary slowly against a network pixel only along the ring: a table over the radius
  // (in quarter steps) replaces the search for the nearest line.
  const corner = spotToSheet(fit, flat.spot, flatToSpot(flat, [leftPx, topPx]));
  const reachMm = Math.hypot(width * mmPerStep, height * mmPerStep) + 2000;
  const binsPerMm = 4 / mmPerStep;
  const outer = radii[radii.length - 1]! + 4 * shaftMm;
  const bins = Math.ceil(Math.min(outer, reachMm) * binsPerMm) + 2;
  const lineAt = new Float32Array(bins);
  for (let bin = 0; bin < bins; bin++) {
    const radius = bin / binsPerMm;
    let nearest = Infinity;
    for (const line of radii) nearest = Math.min(nearest, Math.abs(line - radius));
    lineAt[bin] = Math.max(0, 1 - nearest / shaftMm);
  }

  const scale = Math.log2(shaftSteps / REFERENCE_SHAFT_PX);
  planes.fill(scale, 6 * count, 7 * count);

  fillColours(planes, flat.raster, window);
  const [lines, normalX, normalY] = [3, 4, 5].map((plane) =>
    planes.subarray(plane * count, (plane + 1) * count),
  ) as [Float32Array, Float32Array, Float32Array];
  // The nearest spot, as `sheetToSpot` finds it, without making a position of every pixel.
  const spotX = Float64Array.from(fit.spotCentresMm, (centre) => centre[0]);
  const spotY = Float64Array.from(fit.spotCentresMm, (centre) => centre[1]);
  for (let column = 0; column < width; column++) {
    normalX[column] = (corner[0] + (column + 0.5) * mmPerStep - cameraX) / cameraHeight;
  }
  const apart = new Float64Array(width);
  const firstX = corner[0] + 0.5 * mmPerStep;
  for (let row = 0; row < height; row++) {
    const from = row * width;
    const sheetY = corner[1] - (row + 0.5) * mmPerStep;
    normalX.copyWithin(from, 0, width);
    normalY.fill(-(sheetY - cameraY) / cameraHeight, from, from + width);
    squaresApart(apart, firstX - spotX[0]!, mmPerStep, sheetY - spotY[0]!);
    for (let spot = 1; spot < spotX.length; spot++) {
      keepLesserSquares(apart, firstX - spotX[spot]!, mmPerStep, sheetY - spotY[spot]!);
    }
    linesOnRow(lines, from, apart, lineAt, binsPerMm);
  }
}

/** Squares of distances of places a step apart along a row: the first is (`x`, `y`) away. */
function squaresApart(to: Float64Array, x: number, step: number, y: number): void {
  for (let i = 0; i < to.length; i++) {
    const dx = x + i * step;
    to[i] = dx * dx + y * y;
  }
}

/** The same where they are less. */
function keepLesserSquares(to: Float64Array, x: number, step: number, y: number): void {
  for (let i = 0; i < to.length; i++) {
    const dx = x + i * step;
    const square = dx * dx + y * y;
    if (square < to[i]!) to[i] = square;
  }
}

/** Looks up how much of a line each place of a row shows. */
function linesOnRow(
  lines: Float32Array,
  from: number,
  squares: Float64Array,
  lineAt: Float32Array,
  binsPerMm: number,
): void {
  for (let i = 0; i < squares.length; i++) {
    const bin = (Math.sqrt(squares[i]!) * binsPerMm + 0.5) | 0;
    lines[from + i] = bin < lineAt.length ? lineAt[bin]! : 0;
  }
}

/**
 * Writes the three colour planes, 0 to 1: means of samples between pixels, along the rows first and
 * then down the columns.
 */
function fillColours(planes: Float32Array, raster: Raster, window: Window): void {
  const { width, height, pxPerStep, leftPx, topPx } = window;
  const words = pixelWords(raster);
  const count = width * height;
  const across = axisWeights(leftPx, pxPerStep, width, raster.width);
  const down = axisWeights(topPx, pxPerStep, height, raster.height);
  if (across.reach === 1 && down.reach === 1) {
    copyColours(planes, raster, window, across.first, down.first);
    return;
  }
  /** Rows of the picture that were summed along, kept while the next step may need them. */
  const kept = Array.from({ length: down.reach }, () => new Float32Array(3 * width));
  const keptRow = new Int32Array(down.reach).fill(-1);
  const along = (y: number): Float32Array => {
    const slot = y % down.reach;
    const sums = kept[slot]!;
    if (keptRow[slot] === y) return sums;
    keptRow[slot] = y;
    sumAlong(words, y * raster.width, across, sums);
    return sums;
  };
  const mixed = new Float32Array(3 * width);
  for (let row = 0; row < height; row++) {
    mixed.fill(0);
    const first = down.first[row]!;
    const weightOf = (k: number): number => (down.weights[row * down.reach + k] ?? 0) / 255;
    let k = 0;
    for (; k + 1 < down.reach; k += 2) {
      const far = weightOf(k + 1);
      // Rows that do not count are not asked for: they may lie beyond the picture.
      if (far === 0) addRow(mixed, along(first + k), weightOf(k));
      else addRows(mixed, along(first + k), weightOf(k), along(first + k + 1), far);
    }
    if (k < down.reach && weightOf(k) !== 0) addRow(mixed, along(first + k), weightOf(k));
    for (let plane = 0; plane < 3; plane++) {
      planes.set(mixed.subarray(plane * width, (plane + 1) * width), plane * count + row * width);
    }
  }
}

function addRow(to: Float32Array, row: Float32Array, weight: number): void {
  for (let i = 0; i < to.length; i++) to[i]! += weight * row[i]!;
}

function addRows(
  to: Float32Array,
  a: Float32Array,
  weightOfA: number,
  b: Float32Array,
  weightOfB: number,
): void {
  for (let i = 0; i < to.length; i++) to[i]! += weightOfA * a[i]! + weightOfB * b[i]!;
}

/** Weighs the pixels of a row together, step by step: reds, then greens, then blues. */
function sumAlong(
  words: Uint32Array,
  from: number,
  { first, reach, weights }: AxisWeights,
  sums: Float32Array,
): void {
  const steps = first.length;
  for (let step = 0, k = 0; step < steps; step++) {
    let red = 0;
    let green = 0;
    let blue = 0;
    let i = from + first[step]!;
    for (const end = k + reach; k < end; k++, i++) {
      const weight = weights[k]!;
      const word = words[i]! | 0;
      red += weight * (word & 0xff);
      green += weight * ((word >>> 8) & 0xff);
      blue += weight * ((word >>> 16) & 0xff);
    }
    sums[step] = red;
    sums[steps + step] = green;
    sums[2 * steps + step] = blue;
  }
}

/** Writes the colour planes where each step shows one pixel. */
function copyColours(
  planes: Float32Array,
  raster: Raster,
  { width, height }: Window,
  columns: Int32Array,
  rows: Int32Array,
): void {
  const count = width * height;
  const words = pixelWords(raster);
  const level = 1 / 255;
  for (let row = 0; row < height; row++) {
    const from = rows[row]! * raster.width;
    const to = row * width;
    for (let column = 0; column < width; column++) {
      const word = words[from + columns[column]!]!;
      planes[to + column] = (word & 0xff) * level;
      planes[count + to + column] = ((word >>> 8) & 0xff) * level;
      planes[2 * count + to + column] = ((word >>> 16) & 0xff) * level;
    }
  }
}

/** Along one axis: which pixels make up a step, and how much of it each. */
interface AxisWeights {
  readonly first: Int32Array;
  /** Pixels from the first that may count. */
  readonly reach: number;
  /** Step by step, `reach` each; they add up to 1. */
  readonly weights: Float32Array;
}

/** As many samples a step as it spans pixels, each between two of them; none beyond the rim. */
function axisWeights(
  startPx: number,
  pxPerStep: number,
  steps: number,
  length: number,
): AxisWeights {
  const samples = Math.max(1, Math.round(pxPerStep));
  const place = (step: number, sample: number): number => {
    const px = startPx + (step + (sample + 0.5) / samples) * pxPerStep - 0.5;
    return Math.max(0, Math.min(length - 1, px));
  };
  const first = Int32Array.from({ length: steps }, (_, step) => Math.floor(place(step, 0)));
  const reach = first.reduce(
    (most, from, step) => Math.max(most, Math.ceil(place(step, samples - 1)) - from + 1),
    1,
  );
  const weights = new Float32Array(steps * reach);
  for (let step = 0; step < steps; step++) {
    first[step] = Math.min(first[step]!, length - reach);
    for (let sample = 0; sample < samples; sample++) {
      const px = place(step, sample);
      const from = Math.floor(px);
      const at = step * reach + from - first[step]!;
      weights[at]! += (1 - (px - from)) / samples;
      if (px > from) weights[at + 1]! += (px - from) / samples;
    }
  }
  return { first, reach, weights };
}
