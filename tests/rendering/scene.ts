import { FACES, outerRadiusMm, type FaceId, type Ink } from '../../src/face/faces.ts';
import { Random } from './random.ts';

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
  readonly vanes: Rgb;
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

export interface Scene {
  readonly seed: number;
  readonly category: 'fresh' | 'used' | 'standing' | 'hard';
  readonly face: FaceId;
  readonly shaftMm: number;
  readonly hand: 'right' | 'left';
  readonly distanceM: number;
  readonly print: Print;
  readonly paperHalfMm: readonly [number, number];
  readonly cornerCutMm: number;
  readonly shots: readonly (Hole & { kind: 'fletched' | 'bare' })[];
  readonly arrows: readonly Arrow[];
  readonly old: readonly Hole[];
  /** A second sheet of the same kind on the boss, by its centre's place, or null. */
  readonly neighbourMm: readonly [number, number] | null;
  readonly boss: { readonly kind: 'straw' | 'foam' | 'net'; readonly halfMm: number };
  readonly bulgeMm: number;
  readonly light: {
    /** Unit vector towards the sun; shadows of arrows fall away from it. */
    readonly sun: Vec3;
    readonly sunStrength: Rgb;
    readonly sky: Rgb;
    /** Shadow of something beyond the picture: half-planes with a soft edge, on the sheet. */
    readonly edges: readonly { angle: number; offsetMm: number; softMm: number; dark: number }[];
    readonly dapple: number;
  };
  readonly camera: {
    readonly width: number;
    readonly height: number;
    readonly focalPx: number;
    readonly k1: number;
    readonly distanceMm: number;
    readonly tilt: number;
    readonly azimuth: number;
    readonly roll: number;
    readonly aimMm: readonly [number, number];
  };
  readonly finish: {
    readonly blurPx: number;
    readonly noise: number;
    readonly exposure: number;
    readonly tint: Rgb;
    readonly sharpen: number;
    readonly jpegQuality: number;
  };
}

const linear = (srgb: number): number => Math.pow(srgb / 255, 2.2);
const colour = (r: number, g: number, b: number): Rgb => [linear(r), linear(g), linear(b)];

function fade(ink: Rgb, amount: number): Rgb {
  const paper = 0.75;
  return [0, 1, 2].map((k) => ink[k]! * (1 - amount) + paper * amount) as unknown as Rgb;
}

function jitter(ink: Rgb, random: Random, sd: number): Rgb {
  return ink.map((v) => Math.max(0.004, v * Math.exp(random.normal(sd)))) as unknown as Rgb;
}

function randomPrint(random: Random): Print {
  const fading = random.chance(0.4) ? random.uniform(0.02, 0.3) : 0;
  const ink = (base: Rgb): Rgb => fade(jitter(base, random, 0.12), fading);
  return {
    inks: {
      yellow: ink(random.pick([colour(252, 222, 30), colour(255, 236, 90), colour(245, 200, 20)])),
      red: ink(random.pick([colour(226, 40, 48), colour(235, 70, 80), colour(200, 30, 40)])),
      blue: ink(random.pick([colour(60, 170, 225), colour(30, 130, 200), colour(95, 190, 230)])),
      black: ink(random.pick([colour(28, 28, 30), colour(50, 48, 50), colour(20, 24, 30)])),
      white: jitter(
        random.pick([colour(240, 240, 238), colour(232, 226, 212), colour(225, 230, 235)]),
        random,
        0.03,
      ),
    },
    lineWidthMm: random.uniform(0.5, 1.9),
    gridPitchMm: random.uniform(4, 14),
    gridStrength: random.chance(0.35) ? random.uniform(0.03, 0.14) : 0,
    numberAngle: random.chance(0.75)
      ? random.pick([0, Math.PI / 2, Math.PI / 4, -Math.PI / 4])
      : NaN,
    logo: random.chance(0.6) ? jitter(colour(40, 60, 140), random, 0.8) : null,
    darkRimMm: random.chance(0.5) ? random.uniform(0.3, 1.2) : 0,
    mottle: random.uniform(0, 0.06),
  };
}

function randomHole(
  random: Random,
  mm: readonly [number, number],
  shaftMm: number,
  worn: number,
): Hole {
  return {
    mm,
    // Paper and foam close again: of some old holes little more than a dot is left.
    radiusMm: (shaftMm / 2) * random.uniform(0.72, 1.0) * (1 - 0.85 * worn * random.uniform() ** 2),
    seed: random.int(1, 1e6),
    raggedness: random.uniform(0.05, 0.3),
    fill: random.chance(0.2) ? random.uniform(0.1, 0.5) : random.uniform(0, 0.08),
    rim: random.uniform(0, 0.8),
  };
}

function randomArrow(
  random: Random,
  kind: Arrow['kind'],
  entryMm: readonly [number, number],
  shaftMm: number,
  look: Pick<Arrow, 'shaft' | 'vanes' | 'nock'>,
): Arrow {
  const yaw = random.normal(0.035);
  const pitch = random.normal(0.035) + 0.02;
  const z = Math.sqrt(1 - Math.sin(yaw) ** 2 - Math.sin(pitch) ** 2);
  return {
    kind,
    entryMm,
    axis: [Math.sin(yaw), Math.sin(pitch), z],
    lengthMm: random.uniform(520, 700),
    droopMm: random.uniform(0, 12),
    radiusMm: shaftMm / 2,
    roll: random.uniform(0, 2 * Math.PI),
    ...look,
  };
}

/** A point drawn towards the middle where it lies further out than `most`. */
function within(most: number, [x, y]: readonly [number, number]): readonly [number, number] {
  const share = Math.min(1, most / Math.hypot(x, y));
  return [x * share, y * share];
}

/** A scene of the given category; the same seed always gives the same scene. */
export function randomScene(seed: number, category: Scene['category']): Scene {
  const random = new Random(seed * 7919 + 13);
  const face = random.pick<FaceId>([
    'wa122',
    'wa122',
    'wa80',
    'wa80',
    'wa80-6',
    'wa60',
    'wa40',
    'wa40-triple-vertical',
  ]);
  const geometry = FACES[face];
  const outer = outerRadiusMm(geometry);
  const triple = geometry.spotCentresMm.length > 1;
  const shaftMm = random.pick([4.2, 5.0, 5.5, 5.9, 6.5, 7.5, 9.3]);
  const sigma = outer * random.uniform(0.06, 0.16);
  const offset = within(0.8 * outer, [random.normal(outer * 0.2), random.normal(outer * 0.2)]);
  const spots = geometry.spotCentresMm;

  const place = (spread: number, centre: readonly [number, number]): [number, number] => {
    for (;;) {
      const x = centre[0] + random.normal(spread);
      const y = centre[1] + random.normal(spread);
      if (Math.hypot(x, y) < outer * 0.97) {
        const spot = triple ? random.pick(spots) : spots[0]!;
        return [spot[0] + x, spot[1] + y];
      }
    }
  };
  const fletchedCount = random.int(3, 6);
  const bareCount = random.int(1, 3);
  const kinds: ('fletched' | 'bare')[] = [
    ...Array<'fletched'>(fletchedCount).fill('fletched'),
    ...Array<'bare'>(bareCount).fill('bare'),
  ];
  const aim: [number, number] = [random.normal(outer * 0.05), random.normal(outer * 0.05)];
  const placeKind = (kind: 'fletched' | 'bare') =>
    place(sigma, kind === 'bare' ? [aim[0] + offset[0], aim[1] + offset[1]] : aim);

  const standing = category === 'standing' || (category === 'hard' && random.chance(0.4));
  const hasOld = category === 'used' || (standing && random.chance(0.6)) || category === 'hard';
  const look = {
    shaft: random.pick<Rgb>([
      colour(22, 22, 24),
      colour(38, 38, 42),
      colour(120, 122, 128),
      colour(25, 30, 60),
    ]),
    vanes: jitter(
      random.pick<Rgb>([
        colour(40, 200, 60),
        colour(240, 90, 160),
        colour(250, 250, 250),
        colour(250, 200, 40),
        colour(60, 90, 220),
      ]),
      random,
      0.2,
    ),
    nock: random.pick<Rgb>([colour(250, 120, 30), colour(240, 240, 240), colour(230, 40, 160)]),
  };
  const old: Hole[] = [];
  if (hasOld) {
    const count = random.int(8, 50);
    for (let i = 0; i < count; i++) {
      const oldShaft = random.chance(0.7) ? shaftMm : random.uniform(4.2, 9.3);
      old.push(randomHole(random, place(outer * random.uniform(0.15, 0.4), [0, 0]), oldShaft, 1));
    }
  }
  const steep = category === 'hard' && random.chance(0.5);
  const portrait = random.chance(0.6);
  const big = random.chance(0.25);
  const [long, short] = big
    ? [4000, 3000]
    : random.pick([
        [2400, 1800],
        [2048, 1536],
        [2560, 1440],
      ] as const);
  const width = portrait ? short : long;
  const height = portrait ? long : short;
  const focalPx = long * random.uniform(0.68, 1.05);
  const extent = triple ? outer * 3.4 : outer * random.uniform(1.05, 1.7);
  const distanceMm = (focalPx * extent) / (Math.min(width, height) / 2);
  const dim = category === 'hard' && random.chance(0.4);
  const sunny = random.chance(0.5) && !dim;
  const sunAzimuth = random.uniform(0, 2 * Math.PI);
  const sunHeight = random.uniform(0.25, 1.1);
  const margin = random.uniform(1.04, 1.14);
  const halfX = outer * margin;
  const halfY = triple ? 220 + outer * margin : halfX;
  const roll = random.normal(0.04);

  return {
    seed,
    category,
    face,
    shaftMm,
    hand: random.pick(['right', 'right', 'left']),
    distanceM: random.pick([18, 30, 50, 70]),
    print: randomPrint(random),
    paperHalfMm: [halfX, halfY],
    cornerCutMm: random.chance(0.3) ? outer * random.uniform(0.1, 0.25) : 0,
    shots: standing
      ? []
      : kinds.map((kind) => ({ kind, ...randomHole(random, placeKind(kind), shaftMm, 0) })),
    arrows: standing
      ? kinds.map((kind) => randomArrow(random, kind, placeKind(kind), shaftMm, look))
      : [],
    old,
    neighbourMm:
      !triple && random.chance(0.2)
        ? [random.pick([-1, 1]) * halfX * random.uniform(2.02, 2.15), random.normal(20)]
        : null,
    boss: {
      kind: random.pick(['straw', 'foam', 'net']),
      halfMm: Math.max(halfX, halfY) * random.uniform(1.05, 1.5),
    },
    bulgeMm: random.normal(1.2),
    light: {
      sun: [
        Math.cos(sunAzimuth) * Math.cos(sunHeight),
        Math.abs(Math.sin(sunAzimuth)) * Math.cos(sunHeight),
        Math.sin(sunHeight),
      ],
      sunStrength: sunny ? [1.0, 0.95, 0.85] : [0.12, 0.12, 0.12],
      sky: sunny ? [0.3, 0.34, 0.42] : [0.75, 0.76, 0.78],
      edges:
        sunny && random.chance(0.5)
          ? [
              {
                angle: random.uniform(0, 2 * Math.PI),
                offsetMm: random.normal(outer * 0.5),
                softMm: random.uniform(1, 12),
                dark: random.uniform(0.75, 0.98),
              },
            ]
          : [],
      dapple: sunny && random.chance(0.25) ? random.uniform(0.4, 0.9) : 0,
    },
    camera: {
      width,
      height,
      focalPx,
      k1: random.normal(0.03),
      distanceMm,
      tilt: steep ? random.uniform(0.6, 0.85) : random.uniform(0.02, 0.5),
      azimuth: random.uniform(0, 2 * Math.PI),
      roll,
      aimMm: [random.normal(outer * 0.08), random.normal(outer * 0.08)],
    },
    finish: {
      blurPx: category === 'hard' ? random.uniform(0.6, 1.8) : random.uniform(0.4, 1.0),
      noise: dim ? random.uniform(0.02, 0.05) : random.uniform(0.003, 0.014),
      exposure: dim ? random.uniform(0.25, 0.5) : random.uniform(0.75, 1.15),
      tint: [Math.exp(random.normal(0.07)), 1, Math.exp(random.normal(0.09))],
      sharpen: random.chance(0.5) ? random.uniform(0.4, 1.2) : 0,
      jpegQuality: random.int(72, 94),
    },
  };
}
