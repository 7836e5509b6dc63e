import type { Ink } from '../../face/faces.ts';
import { levelExceededBy } from '../../raster/level-exceeded-by.ts';
import type { Raster } from '../../raster/raster.ts';

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
 * The photo's white: per channel the level that only a share of the brightest exceeds, with the balance
 * held within what lamps and shade do, so that a coloured wall is not taken for white light.
 *
 * @param share How much of the photo is at least as bright as its white. A large one is not misled by
 *   lamps and windows, a small one finds the paper of a face that takes up little of the photo.
 */
export function photoWhite(photo: Raster, share: number): [number, number, number] {
  const counts = [new Uint32Array(256), new Uint32Array(256), new Uint32Array(256)];
  const pixels = photo.width * photo.height;
  for (let i = 0; i < pixels * 4; i += 4) {
    for (let c = 0; c < 3; c++) counts[c]![photo.data[i + c]!]!++;
  }
  const levels = counts.map((count) => levelExceededBy(share, count, pixels));
  const brightest = Math.max(...levels, 24);
  return levels.map((level) => Math.max(level, brightest * 0.55)) as [number, number, number];
}

/** The level that all but the darkest 1 % of the photo exceed in its brightest channel. */
function darkestLevel(photo: Raster): number {
  const counts = new Uint32Array(256);
  const pixels = photo.width * photo.height;
  for (let i = 0; i < pixels * 4; i += 4) {
    counts[Math.max(photo.data[i]!, photo.data[i + 1]!, photo.data[i + 2]!)]!++;
  }
  let below = 0;
  let level = 0;
  while (level < 255 && below + counts[level]! < 0.01 * pixels) below += counts[level++]!;
  return level;
}

/**
 * Tables of how well every colour fits every ink under the photo's own white. `strength` is how
 * much of their colour the inks still have: 1 for fresh print, less for faded faces, haze and
 * glare, where the darkest level of the photo is taken for its black as well.
 *
 * @param whiteShare See `photoWhite`.
 */
export function inkCosts(photo: Raster, strength: number, whiteShare: number): InkCosts {
  const white = photoWhite(photo, whiteShare);
  const black = strength < 1 ? Math.min(darkestLevel(photo), 0.45 * Math.min(...white)) : 0;
  const table = (): Float32Array => new Float32Array(LEVELS ** 3);
  const of = { yellow: table(), red: table(), blue: table(), black: table(), white: table() };
  /** Per channel: each level as a part of the photo's white over its black. */
  const shares = white.map((brightest) =>
    Float64Array.from({ length: LEVELS }, (_, level) => {
      const middle = ((level + 0.5) * 256) / LEVELS;
      return Math.max(0, Math.min(1.1, (middle - black) / (brightest - black)));
    }),
  );
  for (let r = 0; r < LEVELS; r++) {
    for (let g = 0; g < LEVELS; g++) {
      for (let b = 0; b < LEVELS; b++) {
        const red = shares[0]![r]!;
        const green = shares[1]![g]!;
        const blue = shares[2]![b]!;
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
        const coloured = smoothStep(chroma, 0.05 * strength, 0.12 * strength);
        const index = (r << (2 * BITS)) | (g << BITS) | b;
        of.yellow[index] =
          1 -
          coloured *
            smoothStep(saturation, 0.22 * strength, 0.42 * strength) *
            nearHue(hue, 54, 15, 27);
        of.red[index] =
          1 -
          coloured *
            smoothStep(saturation, 0.25 * strength, 0.45 * strength) *
            nearHue(hue, 355, 22, 40);
        of.blue[index] =
          1 -
          coloured *
            smoothStep(saturation, 0.18 * strength, 0.38 * strength) *
            nearHue(hue, 207, 35, 55);
        of.black[index] =
          1 - (1 - smoothStep(value, 0.28, 0.52)) * (1 - smoothStep(chroma, 0.1, 0.22));
        of.white[index] =
          1 -
          smoothStep(value, 0.28, 0.45) *
            (1 - smoothStep(saturation, 0.16 * strength, 0.36 * strength));
      }
    }
  }
  return { of, white };
}
