import type { Raster } from './raster.ts';

/**
 * A raster's pixels as one number each, alpha, blue, green, red from the highest byte down, as the
 * processors that browsers and Node run on lay them out. A view, not a copy, where the raster's
 * bytes begin at a whole word.
 */
export function pixelWords({ width, height, data }: Raster): Uint32Array {
  const whole = data.byteOffset % 4 === 0 ? data : data.slice();
  return new Uint32Array(whole.buffer, whole.byteOffset, width * height);
}

/** A raster's pixels, one number each. */
export interface WordRaster {
  readonly words: Uint32Array;
  readonly width: number;
  readonly height: number;
}

export function wordRaster(raster: Raster): WordRaster {
  return { words: pixelWords(raster), width: raster.width, height: raster.height };
}

/** The bits of a pixel that hold red and blue: summed or weighed together they keep out of each other's way. */
export const RED_BLUE = 0xff00ff;

/** The bits of a pixel that hold green. */
export const GREEN = 0xff00;

/** An opaque pixel without any light. */
export const BLACK = 0xff000000;

/** Opaque pixel of these levels, rounded. */
export function packed(red: number, green: number, blue: number): number {
  return BLACK | ((blue + 0.5) << 16) | ((green + 0.5) << 8) | (red + 0.5);
}
