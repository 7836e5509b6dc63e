import type { Ink } from '../../face/faces.ts';
import { levelExceededBy } from '../../raster/level-exceeded-by.ts';
import { pixelWords } from '../../raster/pixel-words.ts';
import type { Raster } from '../../raster/raster.ts';

/** How badly a colour fits each ink, from 0 (it could be it) to 1 (it is not). */
export interface InkCosts {
  /** Costs of one ink by the index of a colour that the photo shows, see `colourIndex`. */
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

/** What a photo shows of colours, counted once for all ways to see its inks. */
export interface PhotoColours {
  /** For each pixel its colour's index, see `colourIndex`. */
  readonly indices: Uint16Array;
  /** The indices that occur. */
  readonly shown: Uint16Array;
  /** How many pixels were counted. */
  readonly counted: number;
  /** Of these, pixels of each level, of red, green, blue and the brightest of the three. */
  readonly counts: readonly [Uint32Array, Uint32Array, Uint32Array, Uint32Array];
}

/** Levels are counted in so many pixels, evenly spread: shares of a photo are the same in these. */
const ENOUGH_PIXELS = 1e5;

export function coloursOf(photo: Raster): PhotoColours {
  const words = pixelWords(photo);
  const indices = new Uint16Array(words.length);
  const reds = new Uint32Array(256);
  const greens = new Uint32Array(256);
  const blues = new Uint32Array(256);
  const brightest = new Uint32Array(256);
  const occurs = new Uint8Array(LEVELS ** 3);
  const { width } = photo;
  for (let from = 0; from < words.length; from += width) {
    indexRow(words, from, width, indices, occurs);
  }
  const step = Math.max(1, Math.floor(words.length / ENOUGH_PIXELS));
  for (let i = 0; i < words.length; i += step) {
    const word = words[i]! | 0;
    const red = word & 0xff;
    const green = (word >>> 8) & 0xff;
    const blue = (word >>> 16) & 0xff;
    reds[red]!++;
    greens[green]!++;
    blues[blue]!++;
    const most = red > green ? red : green;
    brightest[most > blue ? most : blue]!++;
  }
  const shown = Uint16Array.from(occurs.keys()).filter((index) => occurs[index]);
  const counted = Math.ceil(words.length / step);
  return { indices, shown, counted, counts: [reds, greens, blues, brightest] };
}

/** Writes the indices of a row of colours; a function of its own, which is compiled well once for all rows. */
function indexRow(
  words: Uint32Array,
  from: number,
  width: number,
  indices: Uint16Array,
  occurs: Uint8Array,
): void {
  for (let i = from; i < from + width; i++) {
    const word = words[i]! | 0;
    const index = colourIndex(word & 0xff, (word >>> 8) & 0xff, (word >>> 16) & 0xff);
    indices[i] = index;
    occurs[index] = 1;
  }
}

/**
 * The photo's white: per channel the level that only a share of the brightest exceeds, with the balance
 * held within what lamps and shade do, so that a coloured wall is not taken for white light.
 *
 * @param share How much of the photo is at least as bright as its white. A large one is not misled by
 *   lamps and windows, a small one finds the paper of a face that takes up little of the photo.
 */
export function photoWhite(
  { counted, counts }: PhotoColours,
  share: number,
): [number, number, number] {
  const levels = counts.slice(0, 3).map((channel) => levelExceededBy(share, channel, counted));
  const brightest = Math.max(...levels, LEAST_WHITE);
  return levels.map((level) => Math.max(level, brightest * LEAST_BALANCE)) as [
    number,
    number,
    number,
  ];
}

/** The level that all but the darkest of the photo exceed in its brightest channel. */
function darkestLevel({ counted, counts: [, , , brightest] }: PhotoColours): number {
  let below = 0;
  let level = 0;
  while (level < 255 && below + brightest[level]! < DARKEST_SHARE * counted) {
    below += brightest[level++]!;
  }
  return level;
}

/**
 * Tables of how well every colour that the photo shows fits every ink under the photo's own white.
 * `strength` is how much of their colour the inks still have: 1 for fresh print, less for faded faces,
 * haze and glare, where the darkest level of the photo is taken for its black as well.
 *
 * @param whiteShare See `photoWhite`.
 */
export function inkCosts(photo: PhotoColours, strength: number, whiteShare: number): InkCosts {
  const white = photoWhite(photo, whiteShare);
  const black = strength < 1 ? Math.min(darkestLevel(photo), MOST_HAZE * Math.min(...white)) : 0;
  const tables = Object.entries(LIKENESS).map(([ink, likeness]) => ({
    ink,
    likeness,
    costs: new Float32Array(LEVELS ** 3).fill(1),
  }));
  /** Per channel: each level as a part of the photo's white over its black. */
  const shares = white.map((brightest) =>
    Float64Array.from({ length: LEVELS }, (_, level) => {
      const middle = ((level + 0.5) * 256) / LEVELS;
      return Math.max(0, Math.min(MOST_BRIGHT, (middle - black) / (brightest - black)));
    }),
  );
  for (const index of photo.shown) {
    const red = shares[0]![index >> (2 * BITS)]!;
    const green = shares[1]![(index >> BITS) & (LEVELS - 1)]!;
    const blue = shares[2]![index & (LEVELS - 1)]!;
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
    for (const { likeness, costs } of tables) costs[index] = 1 - likeness(colour, strength);
  }
  const of = Object.fromEntries(tables.map(({ ink, costs }) => [ink, costs])) as InkCosts['of'];
  return { of, white };
}
