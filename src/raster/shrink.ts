import { GREEN, packed, pixelWords, RED_BLUE } from './pixel-words.ts';
import type { Raster } from './raster.ts';

/** A photo, or a smaller copy of it. */
export interface PhotoCopy {
  readonly raster: Raster;
  /** Pixels of the photo along a side of one of the copy's. */
  readonly factor: number;
}

/**
 * A copy whose longer side is at most `longSidePx`, every pixel the mean of a square block of the
 * original. A photo that is small enough is handed back as is.
 */
export function shrink(photo: Raster, longSidePx: number): PhotoCopy {
  const factor = Math.ceil(Math.max(photo.width, photo.height) / longSidePx);
  if (factor <= 1) return { raster: photo, factor: 1 };
  const width = Math.floor(photo.width / factor);
  const height = Math.floor(photo.height / factor);
  const raster = { width, height, data: new Uint8ClampedArray(width * height * 4) };
  const source = pixelWords(photo);
  const out = pixelWords(raster);
  for (let y = 0; y < height; y++) {
    shrinkRow(source, y * factor * photo.width, photo.width, factor, out, y * width, width);
  }
  return { raster, factor };
}

/**
 * Means of square blocks side by side; a function of its own, which is compiled well once for all rows.
 *
 * @param from The first block's first pixel; `stride` pixels lie from one row to the next.
 */
function shrinkRow(
  source: Uint32Array,
  from: number,
  stride: number,
  factor: number,
  out: Uint32Array,
  to: number,
  width: number,
): void {
  const count = factor * factor;
  const inFours = factor & ~3;
  for (let x = 0, block = from; x < width; x++, block += factor) {
    let red = 0;
    let green = 0;
    let blue = 0;
    for (let row = block, end = block + factor * stride; row < end; row += stride) {
      // Red and blue are summed in the two halves of one number: a row of a block fits.
      let both = 0;
      let greens = 0;
      let at = row;
      for (const stop = row + inFours; at < stop; at += 4) {
        const a = source[at]! | 0;
        const b = source[at + 1]! | 0;
        const c = source[at + 2]! | 0;
        const d = source[at + 3]! | 0;
        both = (both + (a & RED_BLUE) + (b & RED_BLUE) + (c & RED_BLUE) + (d & RED_BLUE)) | 0;
        greens = (greens + (a & GREEN) + (b & GREEN) + (c & GREEN) + (d & GREEN)) | 0;
      }
      for (const stop = row + factor; at < stop; at++) {
        const word = source[at]! | 0;
        both = (both + (word & RED_BLUE)) | 0;
        greens = (greens + (word & GREEN)) | 0;
      }
      red = (red + (both & 0xffff)) | 0;
      green = (green + (greens >>> 8)) | 0;
      blue = (blue + (both >>> 16)) | 0;
    }
    out[to + x] = packed(red / count, green / count, blue / count);
  }
}
