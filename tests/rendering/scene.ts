import type { FaceId, Ink } from '../../src/face/faces.ts';

/** Linear-light colour. */
export type Rgb = readonly [number, number, number];
export type Vec3 = readonly [number, number, number];

export interface Hole {
  readonly mm: readonly [number, number];
  /** Open radius; the paper closes, so less than the shaft's. */
  readonly radiusMm: number;
  readonly seed: number;
  readonly raggedness: number;
  /** 0 black cavity, 1 pale filling shows. */
  readonly fill: number;
  /** How bright the torn fibres around it are, 0 to 1. */
  readonly rim: number;
}

export interface Arrow {
  readonly kind: 'fletched' | 'bare';
  readonly entryMm: readonly [number, number];
  /** Unit vector from the entry towards the nock; z is away from the paper. */
  readonly axis: Vec3;
  readonly lengthMm: number;
  /** Drop of the nock end below the straight line. */
  readonly droopMm: number;
  readonly radiusMm: number;
  readonly shaft: Rgb;
  /** A sleeve of another colour on the rear of the shaft. */
  readonly wrap: { readonly colour: Rgb; readonly lengthMm: number } | null;
  /** A point or insert of another colour that still shows outside the paper. */
  readonly front: { readonly colour: Rgb; readonly lengthMm: number } | null;
  /** 0 dull, 1 polished: how much of what is around it a shaft mirrors. */
  readonly gloss: number;
  readonly vanes: Rgb;
  readonly vane: {
    readonly fromNockMm: number;
    readonly lengthMm: number;
    readonly heightMm: number;
    /** 0 plastic of one colour, 1 a barred feather. */
    readonly barred: number;
  };
  readonly nock: Rgb;
  readonly roll: number;
}

/** Where in the sheet's frame extra print sits. */
export interface Print {
  readonly inks: Readonly<Record<Ink, Rgb>>;
  readonly lineWidthMm: number;
  readonly gridPitchMm: number;
  readonly gridStrength: number;
  /** Direction of the row of ring numbers, radians; NaN for none. */
  readonly numberAngle: number;
  readonly logo: Rgb | null;
  readonly darkRimMm: number;
  readonly mottle: number;
}

/** The tidy world: whole photos of a face and little else. */
export const TIDY = ['fresh', 'used', 'standing', 'hard'] as const;
export type TidyCategory = (typeof TIDY)[number];

/**
 * The lived-in world: photos as people take and send them. 'lived' mixes what the others show:
 * arrows from the front, from the side, many in a bunch, a face that fills the picture, a face or
 * camera askew, and a shaft that was told wrong or not at all; 'views' are two photos of one end.
 */
export const LIVED = [
  'lived',
  'front',
  'aside',
  'crowd',
  'close',
  'askew',
  'mistold',
  'views',
] as const;
export type LivedCategory = (typeof LIVED)[number];

export type Category = TidyCategory | LivedCategory;

export interface Scene {
  readonly seed: number;
  readonly category: Category;
  readonly face: FaceId;
  readonly shaftMm: number;
  /** What is said of the shaft when the photo is read; null where nothing is. */
  readonly saidShaftMm: number | null;
  readonly hand: 'right' | 'left';
  readonly distanceM: number;
  readonly print: Print;
  readonly paperHalfMm: readonly [number, number];
  readonly cornerCutMm: number;
  /** Turn of print and paper's outline against the face's up, radians counter-clockwise. */
  readonly paperTurn: number;
  /**
   * How far damp and hands have drawn the paper out of shape: a place of the print, mm, lies at
   * (1 + across) x + skew y, (1 + up) y + skew x.
   */
  readonly stretch: { readonly across: number; readonly up: number; readonly skew: number };
  /** How uneven the boss is under the paper, mm. */
  readonly unevenMm: number;
  /** Height of the ripples of loose paper, mm. */
  readonly rippleMm: number;
  /** Pins and nails through the paper and beside it. */
  readonly pins: readonly {
    readonly mm: readonly [number, number];
    readonly radiusMm: number;
    readonly colour: Rgb;
  }[];
  readonly shots: readonly (Hole & { kind: 'fletched' | 'bare' })[];
  readonly arrows: readonly Arrow[];
  readonly old: readonly Hole[];
  /** The holes that the standing arrows tore, seldom filled by them. */
  readonly torn: readonly Hole[];
  /** More sheets of the same kind on the boss, by their centres' places. */
  readonly neighboursMm: readonly (readonly [number, number])[];
  readonly boss: {
    readonly kind: 'straw' | 'foam' | 'net' | 'planks';
    readonly halfMm: readonly [number, number];
    /** Its edges are level; the face's up may not be, radians. */
    readonly turn: number;
  };
  readonly bulgeMm: number;
  readonly light: {
    /** Unit vector towards the sun; shadows of arrows fall away from it. */
    readonly sun: Vec3;
    readonly sunStrength: Rgb;
    readonly sky: Rgb;
    /** Shadow of something beyond the picture: half-planes with a soft edge, on the sheet. */
    readonly edges: readonly { angle: number; offsetMm: number; softMm: number; dark: number }[];
    readonly dapple: number;
    /** Lamps beside the sun, each with a shadow of its own; unit vectors. */
    readonly lamps: readonly { readonly towards: Vec3; readonly strength: number }[];
    /** Darkening of the paper right beside a standing shaft, 0 to 1. */
    readonly contact: number;
  };
  readonly camera: {
    readonly width: number;
    readonly height: number;
    readonly focalPx: number;
    /** Where the optical axis meets the picture; beside its middle in a cut photo. */
    readonly centrePx: readonly [number, number];
    readonly k1: number;
    readonly distanceMm: number;
    readonly tilt: number;
    readonly azimuth: number;
    readonly roll: number;
    readonly aimMm: readonly [number, number];
    /** Diameter of the opening, focused on the aim; 0 draws everything sharp. */
    readonly apertureMm: number;
  };
  readonly finish: {
    readonly blurPx: number;
    readonly noise: number;
    readonly exposure: number;
    readonly tint: Rgb;
    readonly sharpen: number;
    readonly jpegQuality: number;
    /** Shrinking and compressing once more on the way to somebody, or null. */
    readonly sent: { readonly scale: number; readonly jpegQuality: number } | null;
  };
}
