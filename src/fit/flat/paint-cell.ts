import { betweenPixels } from '../../raster/between-pixels.ts';
import { BLACK, GREEN, packed, RED_BLUE, type WordRaster } from '../../raster/pixel-words.ts';

/**
 * The way from a square cell of a flat picture into the photo: a place (u, v) of the cell, flat pixels
 * from its top left corner, lies at x + u * acrossX + v * downX + u * v * twistX, y alike. Positions in
 * the photo count from the first pixel's centre.
 */
export interface CellWay {
  readonly x: number;
  readonly y: number;
  readonly acrossX: number;
  readonly acrossY: number;
  readonly downX: number;
  readonly downY: number;
  readonly twistX: number;
  readonly twistY: number;
}

/** Where a cell goes. */
export interface CellTarget {
  readonly words: Uint32Array;
  /** Set to 1 where the photo shows the pixel. */
  readonly seen: Uint8Array;
  /** Pixels from one row to the next. */
  readonly stride: number;
  /** The cell's first pixel. */
  readonly from: number;
  readonly columns: number;
  readonly rows: number;
}

/**
 * Paints a cell of a flat picture: the colour between four pixels of the photo where one sample a pixel
 * is asked for, the mean of the nearest pixels of `samples` squared places else. Pixels that the photo
 * does not show are left as they are.
 *
 * @param samples Along each side of a flat pixel, at most 16: sums must fit into half a word.
 */
export function paintCell(
  photo: WordRaster,
  way: CellWay,
  target: CellTarget,
  samples: number,
): void {
  if (!isWithin(photo, way, target)) {
    if (!isBeyond(photo, way, target)) paintRim(photo, way, target, samples);
  } else if (samples === 1) paintBetween(photo, way, target);
  else if (samples === 2) paintMeansOfFour(photo, way, target);
  else if (samples === 3) paintMeansOfNine(photo, way, target);
  else paintMeans(photo, way, target, samples);
}

function alongX(way: CellWay, u: number, v: number): number {
  return way.x + u * way.acrossX + v * way.downX + u * v * way.twistX;
}

function alongY(way: CellWay, u: number, v: number): number {
  return way.y + u * way.acrossY + v * way.downY + u * v * way.twistY;
}

/** Whether every place of a cell, and one pixel beyond, lies within the photo. */
function isWithin(photo: WordRaster, way: CellWay, { columns, rows }: CellTarget): boolean {
  return (
    isPlaceWithin(photo, way, 0, 0) &&
    isPlaceWithin(photo, way, columns, 0) &&
    isPlaceWithin(photo, way, 0, rows) &&
    isPlaceWithin(photo, way, columns, rows)
  );
}

function isPlaceWithin({ width, height }: WordRaster, way: CellWay, u: number, v: number): boolean {
  const x = alongX(way, u, v);
  const y = alongY(way, u, v);
  return x >= 0 && y >= 0 && x < width - 2 && y < height - 2;
}

/** Whether a cell lies to one side of the photo altogether: no place of it goes beyond its corners. */
function isBeyond({ width, height }: WordRaster, way: CellWay, { columns, rows }: CellTarget) {
  const right = alongX(way, columns, 0);
  const bottomLeft = alongX(way, 0, rows);
  const bottomRight = alongX(way, columns, rows);
  const rightY = alongY(way, columns, 0);
  const bottomLeftY = alongY(way, 0, rows);
  const bottomRightY = alongY(way, columns, rows);
  return (
    Math.max(way.x, right, bottomLeft, bottomRight) < 0 ||
    Math.max(way.y, rightY, bottomLeftY, bottomRightY) < 0 ||
    Math.min(way.x, right, bottomLeft, bottomRight) > width - 1 ||
    Math.min(way.y, rightY, bottomLeftY, bottomRightY) > height - 1
  );
}

/** A colour between pixels is exact to a level. */
const WEIGHT_BITS = 8;

/** Steps are counted in such parts of a photo pixel: whole numbers are summed exactly and fast. */
const PART_BITS = 16;
const PART = 1 << PART_BITS;

/** The first pixel that steps are counted from, and steps in parts of a photo pixel. */
interface CellSteps {
  readonly origin: number;
  readonly acrossX: number;
  readonly acrossY: number;
  readonly downX: number;
  readonly downY: number;
  readonly twistX: number;
  readonly twistY: number;
  /** Place of the first sample. */
  readonly x: number;
  readonly y: number;
}

/** Steps from sample to sample, of which there are so many along each side of a flat pixel. */
function stepsOf(way: CellWay, width: number, samples: number): CellSteps {
  const left = Math.floor(way.x);
  const top = Math.floor(way.y);
  const perSample = PART / samples;
  const downX = Math.round(way.downX * perSample);
  const downY = Math.round(way.downY * perSample);
  const acrossX = Math.round((way.acrossX + way.twistX / 2) * perSample);
  const acrossY = Math.round((way.acrossY + way.twistY / 2) * perSample);
  return {
    origin: top * width + left,
    acrossX,
    acrossY,
    downX,
    downY,
    twistX: Math.round(way.twistX * perSample),
    twistY: Math.round(way.twistY * perSample),
    // Half a pixel on, so that what is cut off leaves the nearest one.
    x: Math.round((way.x - left + 0.5) * PART + (acrossX + downX) / 2),
    y: Math.round((way.y - top + 0.5) * PART + (acrossY + downY) / 2),
  };
}

function paintMeans(
  { words, width }: WordRaster,
  way: CellWay,
  { words: out, seen, stride, from, columns, rows }: CellTarget,
  samples: number,
): void {
  const steps = stepsOf(way, width, samples);
  const { origin, downX, downY, twistX, twistY } = steps;
  let { acrossX, acrossY, x: rowX, y: rowY } = steps;
  const share = 1 / (samples * samples);
  for (let row = 0; row < rows; row++) {
    let x = rowX;
    let y = rowY;
    const first = from + row * stride;
    for (let at = first; at < first + columns; at++) {
      let redBlue = 0;
      let green = 0;
      for (let i = 0; i < samples; i++) {
        let sampleX = x;
        let sampleY = y;
        for (let j = 0; j < samples; j++) {
          const word =
            words[origin + Math.imul(sampleY >> PART_BITS, width) + (sampleX >> PART_BITS)]!;
          redBlue = (redBlue + (word & RED_BLUE)) | 0;
          green = (green + ((word >>> 8) & 0xff)) | 0;
          sampleX = (sampleX + downX) | 0;
          sampleY = (sampleY + downY) | 0;
        }
        x = (x + acrossX) | 0;
        y = (y + acrossY) | 0;
      }
      out[at] = packed((redBlue & 0xffff) * share, green * share, (redBlue >>> 16) * share);
      seen[at] = 1;
    }
    rowX = (rowX + samples * downX) | 0;
    rowY = (rowY + samples * downY) | 0;
    acrossX = (acrossX + twistX) | 0;
    acrossY = (acrossY + twistY) | 0;
  }
}

/** The same with two samples along each side, one after the other: most photos are about so fine. */
function paintMeansOfFour(
  { words, width }: WordRaster,
  way: CellWay,
  { words: out, seen, stride, from, columns, rows }: CellTarget,
): void {
  const steps = stepsOf(way, width, 2);
  const { origin, downX, downY, twistX, twistY } = steps;
  let { acrossX, acrossY, x: rowX, y: rowY } = steps;
  for (let row = 0; row < rows; row++) {
    let x = rowX;
    let y = rowY;
    const first = from + row * stride;
    for (let at = first; at < first + columns; at++) {
      const a = words[placeOf(origin, width, x, y)]! | 0;
      const b = words[placeOf(origin, width, (x + downX) | 0, (y + downY) | 0)]! | 0;
      x = (x + acrossX) | 0;
      y = (y + acrossY) | 0;
      const c = words[placeOf(origin, width, x, y)]! | 0;
      const d = words[placeOf(origin, width, (x + downX) | 0, (y + downY) | 0)]! | 0;
      x = (x + acrossX) | 0;
      y = (y + acrossY) | 0;
      // In whole numbers: the mean of four, rounded half up.
      const redBlue = ((a & RED_BLUE) + (b & RED_BLUE) + (c & RED_BLUE) + (d & RED_BLUE)) | 0;
      const green = ((a & GREEN) + (b & GREEN) + (c & GREEN) + (d & GREEN)) | 0;
      out[at] =
        BLACK | (((redBlue + 0x20002) >>> 2) & RED_BLUE) | (((green + 0x200) >>> 2) & GREEN);
      seen[at] = 1;
    }
    rowX = (rowX + 2 * downX) | 0;
    rowY = (rowY + 2 * downY) | 0;
    acrossX = (acrossX + twistX) | 0;
    acrossY = (acrossY + twistY) | 0;
  }
}

/** The same with three samples along each side: a face that fills a photo of a phone is about so fine. */
function paintMeansOfNine(
  { words, width }: WordRaster,
  way: CellWay,
  { words: out, seen, stride, from, columns, rows }: CellTarget,
): void {
  const steps = stepsOf(way, width, 3);
  const { origin, downX, downY, twistX, twistY } = steps;
  const secondX = (2 * downX) | 0;
  const secondY = (2 * downY) | 0;
  let { acrossX, acrossY, x: rowX, y: rowY } = steps;
  const share = 1 / 9;
  for (let row = 0; row < rows; row++) {
    let x = rowX;
    let y = rowY;
    let at = from + row * stride;
    for (const end = at + columns; at < end; at++) {
      let redBlue = 0;
      let green = 0;
      for (let i = 0; i < 3; i++) {
        const a = words[placeOf(origin, width, x, y)]! | 0;
        const b = words[placeOf(origin, width, (x + downX) | 0, (y + downY) | 0)]! | 0;
        const c = words[placeOf(origin, width, (x + secondX) | 0, (y + secondY) | 0)]! | 0;
        redBlue = (redBlue + (a & RED_BLUE) + (b & RED_BLUE) + (c & RED_BLUE)) | 0;
        green = (green + (a & GREEN) + (b & GREEN) + (c & GREEN)) | 0;
        x = (x + acrossX) | 0;
        y = (y + acrossY) | 0;
      }
      out[at] = packed((redBlue & 0xffff) * share, (green >>> 8) * share, (redBlue >>> 16) * share);
      seen[at] = 1;
    }
    rowX = (rowX + 3 * downX) | 0;
    rowY = (rowY + 3 * downY) | 0;
    acrossX = (acrossX + twistX) | 0;
    acrossY = (acrossY + twistY) | 0;
  }
}

/** Place among the photo's words of a sample, in parts of a photo pixel from the origin. */
function placeOf(origin: number, width: number, x: number, y: number): number {
  return (origin + Math.imul(y >> PART_BITS, width) + (x >> PART_BITS)) | 0;
}

function paintBetween(
  { words, width }: WordRaster,
  way: CellWay,
  { words: out, seen, stride, from, columns, rows }: CellTarget,
): void {
  for (let row = 0; row < rows; row++) {
    const v = row + 0.5;
    const acrossX = way.acrossX + v * way.twistX;
    const acrossY = way.acrossY + v * way.twistY;
    let x = way.x + v * way.downX + 0.5 * acrossX;
    let y = way.y + v * way.downY + 0.5 * acrossY;
    const first = from + row * stride;
    for (let at = first; at < first + columns; at++) {
      out[at] = betweenPixels(words, width, x, y, WEIGHT_BITS);
      seen[at] = 1;
      x += acrossX;
      y += acrossY;
    }
  }
}

/** Place by place, for cells that the photo shows in part. */
function paintRim(
  { words, width, height }: WordRaster,
  way: CellWay,
  { words: out, seen, stride, from, columns, rows }: CellTarget,
  samples: number,
): void {
  const lastX = width - 1;
  const lastY = height - 1;
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      let redBlue = 0;
      let green = 0;
      let taken = 0;
      for (let i = 0; i < samples; i++) {
        for (let j = 0; j < samples; j++) {
          const u = column + (i + 0.5) / samples;
          const v = row + (j + 0.5) / samples;
          const x = alongX(way, u, v);
          const y = alongY(way, u, v);
          if (!(x >= 0 && y >= 0 && x <= lastX && y <= lastY)) continue;
          const word =
            samples === 1
              ? betweenPixels(
                  words,
                  width,
                  Math.min(x, lastX - 1e-3),
                  Math.min(y, lastY - 1e-3),
                  WEIGHT_BITS,
                )
              : words[Math.round(y) * width + Math.round(x)]!;
          redBlue += word & RED_BLUE;
          green += (word >>> 8) & 0xff;
          taken++;
        }
      }
      if (taken === 0) continue;
      const at = from + row * stride + column;
      const share = 1 / taken;
      out[at] = packed((redBlue & 0xffff) * share, green * share, (redBlue >>> 16) * share);
      seen[at] = 1;
    }
  }
}
