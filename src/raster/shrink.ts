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
  const data = new Uint8ClampedArray(width * height * 4);
  const source = photo.data;
  const rowBytes = photo.width * 4;
  const sums = new Uint32Array(width * 3);
  const count = factor * factor;
  for (let y = 0; y < height; y++) {
    sums.fill(0);
    for (let dy = 0; dy < factor; dy++) {
      let i = (y * factor + dy) * rowBytes;
      for (let x = 0, s = 0; x < width; x++, s += 3) {
        let red = 0;
        let green = 0;
        let blue = 0;
        for (let dx = 0; dx < factor; dx++, i += 4) {
          red += source[i]!;
          green += source[i + 1]!;
          blue += source[i + 2]!;
        }
        sums[s]! += red;
        sums[s + 1]! += green;
        sums[s + 2]! += blue;
      }
    }
    let o = y * width * 4;
    for (let s = 0; s < sums.length; s += 3, o += 4) {
      data[o] = sums[s]! / count;
      data[o + 1] = sums[s + 1]! / count;
      data[o + 2] = sums[s + 2]! / count;
      data[o + 3] = 255;
    }
  }
  return { raster: { width, height, data }, factor };
}
