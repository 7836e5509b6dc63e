import { BLACK, RED_BLUE } from './pixel-words.ts';

/**
 * Opaque colour at a place between four pixels.
 *
 * @param words The raster's pixels, see `pixelWords`.
 * @param stride Pixels from one row to the next.
 * @param x From the first pixel's centre, not negative and before the last pixel's; y alike.
 * @param bits The four are weighed in parts of 2 ** bits; at most 8.
 */
export function betweenPixels(
  words: Uint32Array,
  stride: number,
  x: number,
  y: number,
  bits: number,
): number {
  const one = 1 << bits;
  const left = x | 0;
  const top = y | 0;
  const fx = ((x - left) * one + 0.5) | 0;
  const fy = y - top;
  const w11 = (fx * fy + 0.5) | 0;
  const w10 = fx - w11;
  const w01 = ((fy * one + 0.5) | 0) - w11;
  const w00 = one - w10 - w01 - w11;
  const at = top * stride + left;
  const p00 = words[at]!;
  const p10 = words[at + 1]!;
  const p01 = words[at + stride]!;
  const p11 = words[at + stride + 1]!;
  const half = one >> 1;
  // Red and blue, weighed in one number, keep out of each other's way.
  const redBlue =
    w00 * (p00 & RED_BLUE) +
    w10 * (p10 & RED_BLUE) +
    w01 * (p01 & RED_BLUE) +
    w11 * (p11 & RED_BLUE) +
    ((half << 16) | half);
  const green =
    w00 * (p00 & 0xff00) +
    w10 * (p10 & 0xff00) +
    w01 * (p01 & 0xff00) +
    w11 * (p11 & 0xff00) +
    (half << 8);
  return BLACK | ((redBlue >>> bits) & RED_BLUE) | ((green >>> bits) & 0xff00);
}
