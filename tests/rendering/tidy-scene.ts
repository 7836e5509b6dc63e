import { FACES, outerRadiusMm, type FaceId } from '../../src/face/faces.ts';
import { Random } from './random.ts';
import { colour, jitter, randomHole, randomPrint, spotSpreadMm, within } from './scene-parts.ts';
import type { Arrow, Hole, Rgb, Scene, TidyCategory } from './scene.ts';

/** Nobody takes a photo from among the nocks of the longest arrows that stand in the face. */
const NEAREST_MM = 1000;

const VANE: Arrow['vane'] = { fromNockMm: 28, lengthMm: 48, heightMm: 11, barred: 0 };

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
    wrap: null,
    front: null,
    gloss: 0,
    vane: VANE,
    roll: random.uniform(0, 2 * Math.PI),
    ...look,
  };
}

function besidesThePaper(
  random: Random,
  sheet: boolean,
  halfX: number,
  halfY: number,
): Pick<Scene, 'neighboursMm' | 'boss'> {
  const neighboursMm: Scene['neighboursMm'] =
    !sheet && random.chance(0.2)
      ? [[random.pick([-1, 1]) * halfX * random.uniform(2.02, 2.15), random.normal(20)]]
      : [];
  const kind = random.pick(['straw', 'foam', 'net'] as const);
  const halfMm = Math.max(halfX, halfY) * random.uniform(1.05, 1.5);
  const beside = Math.abs(neighboursMm[0]?.[0] ?? 0);
  return { neighboursMm, boss: { kind, halfMm: [halfMm + beside, halfMm], turn: 0 } };
}

/**
 * A tidy scene of the given category; the same seed always gives the same scene.
 *
 * @param of The face, where it is not left to chance.
 */
export function tidyScene(seed: number, category: TidyCategory, of?: FaceId): Scene {
  const random = new Random(seed * 7919 + 13);
  const chosen = random.pick<FaceId>([
    'wa122',
    'wa122',
    'wa80',
    'wa80',
    'wa80-6',
    'wa60',
    'wa40',
    'wa40-triple-vertical',
  ]);
  const face = of ?? chosen;
  const geometry = FACES[face];
  const outer = outerRadiusMm(geometry);
  const sheet = geometry.spotCentresMm.length > 1;
  const [wide, tall] = spotSpreadMm(geometry);
  const shaftMm = random.pick([4.2, 5.0, 5.5, 5.9, 6.5, 7.5, 9.3]);
  const sigma = outer * random.uniform(0.06, 0.16);
  const offset = within(0.8 * outer, [random.normal(outer * 0.2), random.normal(outer * 0.2)]);
  const spots = geometry.spotCentresMm;

  const place = (spread: number, centre: readonly [number, number]): [number, number] => {
    for (;;) {
      const x = centre[0] + random.normal(spread);
      const y = centre[1] + random.normal(spread);
      if (Math.hypot(x, y) < outer * 0.97) {
        const spot = sheet ? random.pick(spots) : spots[0]!;
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
  const extent = sheet
    ? 1.0625 * (Math.hypot(wide, tall) + outer)
    : outer * random.uniform(1.05, 1.7);
  const filled = (focalPx * extent) / (Math.min(width, height) / 2);
  const distanceMm = standing ? Math.max(NEAREST_MM, filled) : filled;
  const dim = category === 'hard' && random.chance(0.4);
  const sunny = random.chance(0.5) && !dim;
  const sunAzimuth = random.uniform(0, 2 * Math.PI);
  const sunHeight = random.uniform(0.25, 1.1);
  const margin = random.uniform(1.04, 1.14);
  const halfX = wide + outer * margin;
  const halfY = tall + outer * margin;
  const roll = random.normal(0.04);
  return {
    seed,
    category,
    face,
    shaftMm,
    saidShaftMm: shaftMm,
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
    torn: [],
    paperTurn: 0,
    stretch: { across: 0, up: 0, skew: 0 },
    unevenMm: 0,
    rippleMm: 0,
    pins: [],
    ...besidesThePaper(random, sheet, halfX, halfY),
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
      lamps: [],
      contact: 0,
    },
    camera: {
      width,
      height,
      focalPx,
      centrePx: [width / 2, height / 2],
      k1: random.normal(0.03),
      distanceMm,
      tilt: steep ? random.uniform(0.6, 0.85) : random.uniform(0.02, 0.5),
      azimuth: random.uniform(0, 2 * Math.PI),
      roll,
      aimMm: [random.normal(outer * 0.08), random.normal(outer * 0.08)],
      apertureMm: 0,
    },
    finish: {
      blurPx: category === 'hard' ? random.uniform(0.6, 1.8) : random.uniform(0.4, 1.0),
      noise: dim ? random.uniform(0.02, 0.05) : random.uniform(0.003, 0.014),
      exposure: dim ? random.uniform(0.25, 0.5) : random.uniform(0.75, 1.15),
      tint: [Math.exp(random.normal(0.07)), 1, Math.exp(random.normal(0.09))],
      sharpen: random.chance(0.5) ? random.uniform(0.4, 1.2) : 0,
      jpegQuality: random.int(72, 94),
      sent: null,
    },
  };
}
