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
  const red = new Uint32Array(width);
  const green = new Uint32Array(width);
  const blue = new Uint32Array(width);
  const count = factor * factor;
  for (let y = 0; y < height; y++) {
    red.fill(0);
    green.fill(0);
    blue.fill(0);
    for (let dy = 0; dy < factor; dy++) {
      let i = (y * factor + dy) * photo.width;
      for (let x = 0; x < width; x++) {
        // Red and blue are summed in the two halves of one number: a row of a block fits.
        let both = 0;
        let between = 0;
        for (const end = i + factor; i < end; i++) {
          const word = source[i]!;
          both += word & RED_BLUE;
          between += (word >>> 8) & 0xff;
        }
        red[x]! += both & 0xffff;
        green[x]! += between;
        blue[x]! += both >>> 16;
      }
    }
    for (let x = 0; x < width; x++) {
      out[y * width + x] = packed(red[x]! / count, green[x]! / count, blue[x]! / count);
    }
  }
  return { raster, factor };
}
