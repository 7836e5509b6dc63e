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
