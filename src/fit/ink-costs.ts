import type { Ink } from '../face/faces.ts';
import type { Raster } from '../raster/raster.ts';

/** How badly a colour fits each ink, from 0 (it could be it) to 1 (it is not). */
export interface InkCosts {
  /** Costs of one ink by the colour's index, see `colourIndex`. */
  readonly of: Readonly<Record<Ink, Float32Array>>;
  /** Brightest neutral of the photo per channel, 0 to 255: its white. */
  readonly white: readonly [number, number, number];
}

const BITS = 5;
const LEVELS = 1 << BITS;

/** Index of a colour in the tables of InkCosts. */
export function colourIndex(red: number, green: number, blue: number): number {
  const shift = 8 - BITS;
  return ((red >> shift) << (2 * BITS)) | ((green >> shift) << BITS) | (blue >> shift);
}

function smoothStep(value: number, from: number, to: number): number {
  const t = Math.max(0, Math.min(1, (value - from) / (to - from)));
  return t * t * (3 - 2 * t);
}

/** 1 within `full` degrees of a hue, falling to 0 at `none` degrees. */
function nearHue(hue: number, middle: number, full: number, none: number): number {
  const apart = Math.abs(((hue - middle + 540) % 360) - 180);
  return 1 - smoothStep(apart, full, none);
}

/**
 * The photo's white: per channel the level that only the brightest 3 % exceed, with the balance
 * held within what lamps and shade do, so that a coloured wall is not taken for white light.
 */
export function photoWhite(photo: Raster): [number, number, number] {
  const counts = [new Uint32Array(256), new Uint32Array(256), new Uint32Array(256)];
  const pixels = photo.width * photo.height;
  for (let i = 0; i < pixels * 4; i += 4) {
    for (let c = 0; c < 3; c++) counts[c]![photo.data[i + c]!]!++;
  }
  const levels = counts.map((count) => {
    let above = 0;
    let level = 255;
    while (level > 1 && above + count[level]! < 0.03 * pixels) above += count[level--]!;
    return level;
  });
  const brightest = Math.max(...levels, 24);
  return levels.map((level) => Math.max(level, brightest * 0.55)) as [number, number, number];
}

/** Tables of how well every colour fits every ink under the photo's own white. */
export function inkCosts(photo: Raster): InkCosts {
  const white = photoWhite(photo);
  const table = (): Float32Array => new Float32Array(LEVELS ** 3);
  const of = { yellow: table(), red: table(), blue: table(), black: table(), white: table() };
  for (let r = 0; r < LEVELS; r++) {
    for (let g = 0; g < LEVELS; g++) {
      for (let b = 0; b < LEVELS; b++) {
        const middle = (level: number): number => ((level + 0.5) * 256) / LEVELS;
        const red = Math.min(1.1, middle(r) / white[0]);
        const green = Math.min(1.1, middle(g) / white[1]);
        const blue = Math.min(1.1, middle(b) / white[2]);
        const value = Math.max(red, green, blue);
        const chroma = value - Math.min(red, green, blue);
        const saturation = value > 0 ? chroma / value : 0;
        let hue = 0;
        if (chroma > 0) {
          if (value === red) hue = 60 * ((green - blue) / chroma);
          else if (value === green) hue = 60 * ((blue - red) / chroma + 2);
          else hue = 60 * ((red - green) / chroma + 4);
        }
        // Near black, hue and saturation are noise.
        const coloured = smoothStep(chroma, 0.05, 0.12);
        const index = (r << (2 * BITS)) | (g << BITS) | b;
        of.yellow[index] =
          1 - coloured * smoothStep(saturation, 0.22, 0.42) * nearHue(hue, 54, 15, 27);
        of.red[index] =
          1 - coloured * smoothStep(saturation, 0.25, 0.45) * nearHue(hue, 355, 22, 40);
        of.blue[index] =
          1 - coloured * smoothStep(saturation, 0.18, 0.38) * nearHue(hue, 207, 35, 55);
        of.black[index] =
          1 - (1 - smoothStep(value, 0.28, 0.52)) * (1 - smoothStep(chroma, 0.1, 0.22));
        of.white[index] =
          1 - smoothStep(value, 0.28, 0.45) * (1 - smoothStep(saturation, 0.16, 0.36));
      }
    }
  }
  return { of, white };
}
