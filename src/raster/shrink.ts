import { packed, pixelWords, RED_BLUE } from './pixel-words.ts';
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
  const count = factor * factor;
  for (let y = 0, to = 0; y < height; y++) {
    for (let x = 0, column = y * factor * photo.width; x < width; x++, to++) {
      let red = 0;
      let green = 0;
      let blue = 0;
      for (const end = column + factor; column < end; column++) {
        // Red and blue are summed in the two halves of one number: a column of a block fits.
        let both = 0;
        for (let dy = 0, at = column; dy < factor; dy++, at += photo.width) {
          const word = source[at]! | 0;
          both = (both + (word & RED_BLUE)) | 0;
          green = (green + ((word >>> 8) & 0xff)) | 0;
        }
        red += both & 0xffff;
        blue += both >>> 16;
      }
      out[to] = packed(red / count, green / count, blue / count);
    }
  }
  return { raster, factor };
}
