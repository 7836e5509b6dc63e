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

/** How inks are looked for: their strength, and how much of the photo is as bright as its white. */
export interface InkSight {
  readonly strength: number;
  readonly whiteShare: number;
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
function nearHue(hue: number, { middle, full, none }: HueRange): number {
  const apart = Math.abs(((hue - middle + 540) % 360) - 180);
  return 1 - smoothStep(apart, full, none);
}

/** Where a part of the photo's white, or of a colour's strength, begins to count and counts wholly. */
type Rise = readonly [from: number, to: number];

/** Degrees on the colour circle: certainly it, and certainly not it, so far from the middle. */
interface HueRange {
  readonly middle: number;
  readonly full: number;
  readonly none: number;
}

/** A colour under the photo's own white. */
interface Colour {
  /** Brightest channel, as a part of white. */
  readonly value: number;
  /** Brightest less darkest channel, as a part of white. */
  readonly chroma: number;
  /** Chroma as a part of the value. */
  readonly saturation: number;
  /** Degrees, red 0, green 120, blue 240. */
  readonly hue: number;
}

/** How far a colour can be an ink that has `strength` of its colour left: 0 not at all, 1 it may be. */
type Likeness = (colour: Colour, strength: number) => number;

/** Near black, hue and saturation are noise: colours count from this chroma on. */
const COLOURED: Rise = [0.05, 0.12];

/** A printed colour, known by its hue and by how far it is from grey. */
function coloured(range: HueRange, saturated: Rise): Likeness {
  return ({ chroma, saturation, hue }, strength) => {
    const near = nearHue(hue, range);
    if (near === 0) return 0;
    return (
      smoothStep(chroma, COLOURED[0] * strength, COLOURED[1] * strength) *
      smoothStep(saturation, saturated[0] * strength, saturated[1] * strength) *
      near
    );
  };
}

/** Print and shade of white paper meet here: darker than both is black, brighter than both is white. */
const DARK: Rise = [0.28, 0.52];
const BRIGHT: Rise = [0.28, 0.45];
/** Black reflects some of the sky or lamp; what has more colour than that is a dark colour. */
const BLACK_TINT: Rise = [0.1, 0.22];
/** White paper takes the colour of its light; what has more colour than that is print. */
const WHITE_TINT: Rise = [0.16, 0.36];

/**
 * What each ink looks like. Hues are those of the rule book's inks (yellow 107U, red 032U, light blue
 * 306U) as photos show them; how wide is by how far prints and lamps move them: yellow has orange straw
 * on one side and green grass on the other, red reaches from pink to orange, blue from turquoise to
 * navy with nothing else near.
 */
const LIKENESS: Readonly<Record<Ink, Likeness>> = {
  yellow: coloured({ middle: 54, full: 15, none: 27 }, [0.22, 0.42]),
  red: coloured({ middle: 355, full: 22, none: 40 }, [0.25, 0.45]),
  blue: coloured({ middle: 207, full: 35, none: 55 }, [0.18, 0.38]),
  // A blue so dark (282C) that it is as near to black, from which only its hue tells it.
  navy: coloured({ middle: 217, full: 30, none: 50 }, [0.25, 0.45]),
  black: ({ value, chroma }) =>
    (1 - smoothStep(value, DARK[0], DARK[1])) *
    (1 - smoothStep(chroma, BLACK_TINT[0], BLACK_TINT[1])),
  white: ({ value, saturation }, strength) =>
    smoothStep(value, BRIGHT[0], BRIGHT[1]) *
    (1 - smoothStep(saturation, WHITE_TINT[0] * strength, WHITE_TINT[1] * strength)),
};

/** The darkest channel of the light's colour is at least so much of its brightest, by lamp or shade. */
const LEAST_BALANCE = 0.55;
/** A photo is at least so bright, of 255, however dark it is. */
const LEAST_WHITE = 24;
/** Share of the photo's pixels that may be darker than its black. */
const DARKEST_SHARE = 0.01;
/** Haze lifts black to less than this part of white. */
const MOST_HAZE = 0.45;
/** Glare shows colours brighter than white, hardly more than so. */
const MOST_BRIGHT = 1.1;

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
  const brightest = Math.max(...levels, LEAST_WHITE);
  return levels.map((level) => Math.max(level, brightest * LEAST_BALANCE)) as [
    number,
    number,
    number,
  ];
}

/** The level that all but the darkest of the photo exceed in its brightest channel. */
function darkestLevel(photo: Raster): number {
  const counts = new Uint32Array(256);
  const pixels = photo.width * photo.height;
  for (let i = 0; i < pixels * 4; i += 4) {
    counts[Math.max(photo.data[i]!, photo.data[i + 1]!, photo.data[i + 2]!)]!++;
  }
  let below = 0;
  let level = 0;
  while (level < 255 && below + counts[level]! < DARKEST_SHARE * pixels) below += counts[level++]!;
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
  const black = strength < 1 ? Math.min(darkestLevel(photo), MOST_HAZE * Math.min(...white)) : 0;
  const tables = Object.entries(LIKENESS).map(([ink, likeness]) => ({
    ink,
    likeness,
    costs: new Float32Array(LEVELS ** 3),
  }));
  /** Per channel: each level as a part of the photo's white over its black. */
  const shares = white.map((brightest) =>
    Float64Array.from({ length: LEVELS }, (_, level) => {
      const middle = ((level + 0.5) * 256) / LEVELS;
      return Math.max(0, Math.min(MOST_BRIGHT, (middle - black) / (brightest - black)));
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
        const colour: Colour = { value, chroma, saturation, hue };
        const index = (r << (2 * BITS)) | (g << BITS) | b;
        for (const { likeness, costs } of tables) costs[index] = 1 - likeness(colour, strength);
      }
    }
  }
  const of = Object.fromEntries(tables.map(({ ink, costs }) => [ink, costs])) as InkCosts['of'];
  return { of, white };
}
