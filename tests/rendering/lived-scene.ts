import { FACES, outerRadiusMm, type FaceId } from '../../src/face/faces.ts';
import { Camera } from './camera.ts';
import { Random } from './random.ts';
import { colour, jitter, randomHole, randomPrint, spotSpreadMm } from './scene-parts.ts';
import type { Arrow, Hole, LivedCategory, Rgb, Scene, Vec3 } from './scene.ts';

type Pair = readonly [number, number];

/** How the photographer stands: in front, as most do, or far to a side to show all the arrows. */
const VIEW_DEG = { front: [2, 13], half: [13, 42], aside: [42, 65] } as const;
type View = keyof typeof VIEW_DEG;

const FACE_IDS: readonly FaceId[] = [
  ...Array<FaceId>(5).fill('wa122'),
  ...Array<FaceId>(4).fill('wa80'),
  ...Array<FaceId>(4).fill('wa80-6'),
  'wa60',
  'wa40',
  'wa40',
  'wa40-triple-vertical',
  'field-60',
];

const SHAFTS_MM = [4.2, 5.0, 5.5, 5.9, 6.6, 7.3, 7.9, 8.7, 9.3, 10.7] as const;

/**
 * A scene as people photograph it; the same seed always gives the same scene.
 *
 * @param of The face, where it is not left to chance.
 */
export function livedScene(seed: number, category: LivedCategory, of?: FaceId): Scene {
  const random = new Random(seed * 104729 + 71);
  const chosen = random.pick(FACE_IDS);
  const face = of ?? chosen;
  const outer = outerRadiusMm(FACES[face]);
  const { shaftMm, saidShaftMm } = shafts(random, category);
  const paper = paperOf(random, face, category);
  const arrows = arrowsOf(random, face, shaftMm, category);
  const light = lightOf(random, outer);
  const view = viewOf(random, category);
  return {
    seed,
    category,
    face,
    shaftMm,
    saidShaftMm,
    hand: random.pick(['right', 'right', 'left']),
    distanceM: random.pick([18, 30, 50, 70]),
    print: { ...randomPrint(random), numberAngle: numberAngle(random, category) },
    ...paper,
    shots: [],
    arrows,
    old: oldHoles(random, face, shaftMm),
    torn: tornEntries(random, arrows),
    bulgeMm: random.normal(outer * 0.014),
    light,
    ...photographed(random, face, arrows, view, category),
  };
}

/** The same end from somewhere else, by the same person. */
export function otherView(scene: Scene, seed: number): Scene {
  const random = new Random(seed * 15485863 + 17);
  const view = random.pick<View>(['front', 'half', 'half', 'aside']);
  const away = scene.camera.azimuth + Math.PI * random.uniform(0.6, 1.4);
  return {
    ...scene,
    ...photographed(random, scene.face, scene.arrows, view, 'lived', away),
  };
}

function shafts(random: Random, category: LivedCategory) {
  const shaftMm = random.pick(SHAFTS_MM);
  const mistold = category === 'mistold' || random.chance(0.3);
  const untold = random.chance(category === 'mistold' ? 0.3 : 0.4);
  // People mix up the sizes that they own, within a factor of two.
  const others = SHAFTS_MM.filter((mm) => {
    const factor = Math.max(mm / shaftMm, shaftMm / mm);
    return factor > 1.25 && factor <= 2;
  });
  return { shaftMm, saidShaftMm: untold ? null : mistold ? random.pick(others) : shaftMm };
}

function numberAngle(random: Random, category: LivedCategory): number {
  if (category !== 'askew') return random.pick([NaN, 0, Math.PI / 2, Math.PI / 4, -Math.PI / 4]);
  return random.pick([Math.PI / 4, -Math.PI / 4, 0]);
}

/** The sheet, what it hangs on and what is beside it. */
function paperOf(random: Random, face: FaceId, category: LivedCategory) {
  const geometry = FACES[face];
  const outer = outerRadiusMm(geometry);
  const triple = geometry.spotCentresMm.length > 1;
  const margin = random.uniform(1.03, 1.16);
  const [wide, high] = spotSpreadMm(geometry);
  const halfX = wide + outer * margin;
  const halfY = high + outer * margin;
  const askew = category === 'askew';
  const octagon = !triple && random.chance(askew ? 0.5 : 0.25);
  // An octagon with eight equal edges, or corners cut off by eye.
  const cornerCutMm = octagon ? halfX * random.pick([2 - Math.SQRT2, random.uniform(0.2, 0.5)]) : 0;
  const quarters = triple ? [0, 2] : [0, 1, 2, 3];
  const paperTurn = askew && random.chance(0.6) ? random.pick(quarters) * (Math.PI / 2) : 0;
  const turn = random.normal(askew ? 0.05 : 0.02);
  const row = !triple && random.chance(0.5);
  const pitch = halfX * random.uniform(2.05, 2.6);
  const neighboursMm: Pair[] = row
    ? [-3, -2, -1, 1, 2, 3]
        .filter((at) => random.chance(Math.abs(at) === 1 ? 0.9 : 0.6))
        .map((at): Pair => [at * pitch, random.normal(12)])
    : [];
  const pins: Scene['pins'][number][] = [];
  const tone = random.pick<Rgb>([colour(30, 30, 32), colour(190, 190, 195), colour(200, 40, 40)]);
  for (const [sx, sy] of [
    [-1, -1],
    [-1, 1],
    [1, -1],
    [1, 1],
  ] as const) {
    if (!random.chance(0.7)) continue;
    const at = random.uniform(0.86, 0.97);
    const far = cornerCutMm > 0 ? 1 - (0.55 * cornerCutMm) / halfX : 1;
    const mm = [sx * halfX * at * far, sy * halfY * at * far] as const;
    pins.push({ mm, radiusMm: random.uniform(2.5, 7), colour: tone });
  }
  return {
    paperHalfMm: [halfX, halfY] as const,
    cornerCutMm,
    paperTurn,
    stretch: {
      across: random.normal(0.004),
      up: random.normal(0.004),
      skew: random.normal(0.0015),
    },
    unevenMm: outer * random.uniform(0.004, 0.018),
    rippleMm: random.chance(0.6) ? outer * random.uniform(0, 0.02) : 0,
    pins,
    neighboursMm,
    boss: {
      kind: random.pick(['straw', 'foam', 'net', 'planks'] as const),
      // Often hardly larger than the paper, so that its edges lie beside the paper's.
      halfMm: [
        halfX * random.uniform(1.02, 1.5) + Math.max(0, ...neighboursMm.map(([x]) => Math.abs(x))),
        halfY * random.uniform(1.02, 1.5),
      ] as const,
      turn,
    },
  };
}

function oldHoles(random: Random, face: FaceId, shaftMm: number): Hole[] {
  const geometry = FACES[face];
  const outer = outerRadiusMm(geometry);
  const count = random.pick([0, 0, random.int(3, 30), random.int(20, 90), random.int(90, 260)]);
  const spread = outer * random.uniform(0.12, 0.4);
  return Array.from({ length: count }, () => {
    const centre = random.pick(geometry.spotCentresMm);
    const [x, y] = placeWithin(random, spread, outer);
    const thick = random.chance(0.6) ? shaftMm : random.pick(SHAFTS_MM);
    return randomHole(random, [centre[0] + x, centre[1] + y], thick, 0.8);
  });
}

/** A shaft seldom fills its hole: paper tears as it enters, and gives way as it leans. */
function tornEntries(random: Random, arrows: readonly Arrow[]): Hole[] {
  return arrows.map(({ entryMm, radiusMm }) => ({
    ...randomHole(random, entryMm, 2 * radiusMm, 0),
    mm: [entryMm[0] + random.normal(0.25 * radiusMm), entryMm[1] + random.normal(0.25 * radiusMm)],
    radiusMm: radiusMm * random.uniform(1, 1.5),
  }));
}

function placeWithin(random: Random, spread: number, outer: number): [number, number] {
  for (;;) {
    const at: [number, number] = [random.normal(spread), random.normal(spread)];
    if (Math.hypot(...at) < outer * 0.97) return at;
  }
}

/** One archer's arrows, at times with a second archer's among them. */
function arrowsOf(random: Random, face: FaceId, shaftMm: number, category: LivedCategory): Arrow[] {
  const geometry = FACES[face];
  const outer = outerRadiusMm(geometry);
  const crowd = category === 'crowd' || random.chance(0.35);
  const count = crowd ? random.int(8, 20) : random.int(1, 7);
  let spread = outer * Math.exp(random.uniform(Math.log(crowd ? 0.06 : 0.04), Math.log(0.3)));
  const bare = random.chance(0.6) ? random.int(0, Math.min(3, count - 1)) : 0;
  const offset: Pair = [random.normal(spread * 1.5), random.normal(spread * 1.5)];
  const aim: Pair = [random.normal(outer * 0.06), random.normal(outer * 0.06)];
  const common: Pair = [random.normal(0.04), 0.015 + random.normal(0.04)];
  const leanSd = random.uniform(0.03, 0.1);
  const lengthMm = random.uniform(480, 720);
  const droopMm = random.uniform(0, 22);
  const looks = [arrowLook(random), arrowLook(random)];
  const mixed = random.chance(0.2);
  const arrows: Arrow[] = [];
  for (let i = 0; i < count; i++) {
    const kind = i < bare ? 'bare' : 'fletched';
    const look = looks[mixed ? random.int(0, 1) : 0]!;
    const apart = shaftMm * 1.05;
    let entryMm: Pair | null = null;
    for (let tries = 0; !entryMm; tries++) {
      if (tries % 40 === 39) spread *= 1.2;
      const spot = random.pick(geometry.spotCentresMm);
      const [x, y] = [
        aim[0] + random.normal(spread) + (kind === 'bare' ? offset[0] : 0),
        aim[1] + random.normal(spread) + (kind === 'bare' ? offset[1] : 0),
      ];
      const at: Pair = [spot[0] + x, spot[1] + y];
      const free = arrows.every(
        (other) => Math.hypot(other.entryMm[0] - at[0], other.entryMm[1] - at[1]) > apart,
      );
      if (free && Math.hypot(x, y) < outer * 0.97) entryMm = at;
    }
    // One in twelve was turned aside by another arrow, or by something hard in the boss.
    const sd = random.chance(0.08) ? 0.13 : leanSd;
    const [yaw, pitch] = [common[0] + random.normal(sd), common[1] + random.normal(sd)];
    const z = Math.sqrt(1 - Math.sin(yaw) ** 2 - Math.sin(pitch) ** 2);
    arrows.push({
      kind,
      entryMm,
      axis: [Math.sin(yaw), Math.sin(pitch), z],
      lengthMm: lengthMm + random.normal(25),
      droopMm: droopMm * random.uniform(0.6, 1.4),
      radiusMm: shaftMm / 2,
      roll: random.uniform(0, 2 * Math.PI),
      ...look,
    });
  }
  return arrows;
}

function arrowLook(random: Random) {
  const dark = [colour(20, 20, 22), colour(42, 42, 46), colour(25, 30, 60)];
  const light = [colour(150, 152, 158), colour(205, 205, 205), colour(196, 150, 90)];
  const bright = [
    colour(40, 210, 70),
    colour(240, 90, 160),
    colour(250, 250, 250),
    colour(255, 120, 30),
    colour(60, 90, 220),
    colour(250, 220, 40),
    colour(30, 30, 34),
    colour(220, 40, 50),
  ];
  const shaft = jitter(random.pick(random.chance(0.6) ? dark : light), random, 0.15);
  const feather = random.chance(0.3);
  return {
    shaft,
    wrap: random.chance(0.3)
      ? { colour: random.pick(bright), lengthMm: random.uniform(90, 190) }
      : null,
    front: random.chance(0.5)
      ? {
          colour: random.pick([colour(24, 24, 26), colour(120, 120, 124), colour(70, 60, 50)]),
          lengthMm: random.uniform(4, 160),
        }
      : null,
    gloss: random.pick([0, 0.5, 0.8, 1]),
    vanes: jitter(random.pick(bright), random, 0.2),
    vane: feather
      ? {
          fromNockMm: 30,
          lengthMm: random.uniform(75, 105),
          heightMm: 15,
          barred: random.uniform(),
        }
      : { fromNockMm: 28, lengthMm: random.uniform(38, 60), heightMm: 10, barred: 0 },
    nock: random.pick(bright),
  };
}

function lightOf(random: Random, outer: number): Scene['light'] {
  const kind = random.pick(['sun', 'sun', 'overcast', 'hall', 'hall'] as const);
  const direction = (low: number, high: number): Vec3 => {
    const [azimuth, height] = [random.uniform(0, 2 * Math.PI), random.uniform(low, high)];
    return [
      Math.cos(azimuth) * Math.cos(height),
      Math.abs(Math.sin(azimuth)) * Math.cos(height),
      Math.sin(height),
    ];
  };
  const sunny = kind === 'sun';
  return {
    sun: direction(0.2, 1.2),
    sunStrength: sunny
      ? [1.05, 0.98, 0.86]
      : kind === 'hall'
        ? [0.25, 0.24, 0.21]
        : [0.1, 0.1, 0.1],
    sky: sunny ? [0.26, 0.3, 0.38] : [0.62, 0.62, 0.6],
    edges:
      sunny && random.chance(0.4)
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
    lamps:
      kind === 'hall'
        ? Array.from({ length: random.int(1, 3) }, () => ({
            towards: direction(0.3, 1.1),
            strength: random.uniform(0.6, 1.3),
          }))
        : [],
    contact: random.uniform(0.3, 0.9),
  };
}

function viewOf(random: Random, category: LivedCategory): View {
  if (category === 'front' || category === 'aside') return category;
  if (category === 'close' || category === 'askew') return random.pick(['front', 'half']);
  return random.pick(['front', 'half', 'half', 'aside', 'aside', 'aside']);
}

/** The camera, and what becomes of its picture until somebody reads it. */
function photographed(
  random: Random,
  face: FaceId,
  arrows: readonly Arrow[],
  view: View,
  category: LivedCategory,
  azimuth = viewAzimuth(random),
): Pick<Scene, 'camera' | 'finish'> {
  for (;;) {
    const camera = cameraOf(random, face, view, category, azimuth);
    if (arrows.every((arrow) => clearOf(camera, arrow))) return { camera, finish: finish(random) };
  }
}

/** People stand beside the arrows or above them, seldom below. */
function viewAzimuth(random: Random): number {
  const side = random.pick([0, Math.PI]);
  return side + random.normal(0.45) * (side === 0 ? 1 : -1) + (side === 0 ? 0.2 : -0.2);
}

/** Whether no arrow pokes the camera. */
function clearOf(camera: Scene['camera'], arrow: Arrow): boolean {
  const place = new Camera(camera).place;
  const nock = [0, 1, 2].map(
    (k) => (k < 2 ? arrow.entryMm[k]! : 0) + arrow.axis[k]! * arrow.lengthMm,
  );
  return Math.hypot(...nock.map((v, k) => v - place[k]!)) > 160;
}

const RENDERED_OVER_SENT = 1.25;

function cameraOf(
  random: Random,
  face: FaceId,
  view: View,
  category: LivedCategory,
  azimuth: number,
): Scene['camera'] {
  const geometry = FACES[face];
  const outer = outerRadiusMm(geometry);
  const [, tall] = spotSpreadMm(geometry);
  const tilt = (random.uniform(...VIEW_DEG[view]) * Math.PI) / 180;
  const rollDeg = category === 'askew' ? random.uniform(-8, 8) : random.normal(3);
  // The whole photo has a diagonal of 1; main cameras are wide, some people zoom.
  const focal = random.uniform(0.56, 0.7) * (random.chance(0.2) ? random.uniform(1.5, 2.5) : 1);
  const distanceMm = Math.max(750, (outer + tall / 2) * random.uniform(1.9, 4) * (focal / 0.62));
  const portrait = random.chance(0.5);
  const whole: Pair = portrait ? [0.6, 0.8] : [0.8, 0.6];
  const aimMm: Pair = [random.normal(outer * 0.15), random.normal(outer * 0.15)];
  const base = {
    width: whole[0],
    height: whole[1],
    focalPx: focal,
    centrePx: [whole[0] / 2, whole[1] / 2] as Pair,
    k1: random.normal(0.03),
    distanceMm,
    tilt,
    azimuth,
    roll: (rollDeg * Math.PI) / 180,
    aimMm,
    apertureMm: random.pick([1.2, 2, 3, 4.5]),
  };
  const [left, top, width, height] = frameOf(
    random,
    new Camera(base),
    outer,
    tall,
    whole,
    category,
  );
  const sentPx = random.uniform(750, 1150);
  const scale = (sentPx * RENDERED_OVER_SENT) / Math.max(width, height);
  return {
    ...base,
    width: Math.round(width * scale),
    height: Math.round(height * scale),
    focalPx: focal * scale,
    centrePx: [(base.centrePx[0] - left) * scale, (base.centrePx[1] - top) * scale],
  };
}

/** What is kept of the photo: all of it, or what somebody cut out around the face. */
function frameOf(
  random: Random,
  camera: Camera,
  outer: number,
  tall: number,
  whole: Pair,
  category: LivedCategory,
): [number, number, number, number] {
  const reach = category === 'close' ? random.uniform(0.55, 0.75) : 1;
  const rim = Array.from({ length: 48 }, (_, i) => {
    const angle = (i * Math.PI) / 24;
    const y = outer * reach * Math.sin(angle);
    return camera.project([outer * reach * Math.cos(angle), y + Math.sign(y) * tall, 0]);
  });
  const [xs, ys] = [rim.map(([x]) => x), rim.map(([, y]) => y)];
  const box = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)] as const;
  const across = box[2] - box[0];
  const down = box[3] - box[1];
  // Some cut a little of the face off on a side; others leave much around it.
  const side = () => (category === 'close' ? random.normal(0.02) : random.uniform(-0.12, 0.7));
  const cut = category === 'close' || random.chance(0.75);
  const want = cut
    ? [
        box[0] - side() * across,
        box[1] - side() * down,
        box[2] + side() * across,
        box[3] + side() * down,
      ]
    : [0, 0, whole[0], whole[1]];
  const left = Math.max(0, want[0]!);
  const top = Math.max(0, want[1]!);
  const right = Math.min(whole[0], want[2]!);
  const bottom = Math.min(whole[1], want[3]!);
  const enough = (right - left) * (bottom - top) > 0.4 * across * down;
  return enough ? [left, top, right - left, bottom - top] : [0, 0, whole[0], whole[1]];
}

function finish(random: Random): Scene['finish'] {
  const dim = random.chance(0.2);
  return {
    blurPx: random.uniform(0.7, 1.8),
    noise: dim ? random.uniform(0.012, 0.035) : random.uniform(0.003, 0.012),
    exposure: dim ? random.uniform(0.35, 0.6) : random.uniform(0.65, 1.15),
    tint: [Math.exp(random.normal(0.08)), 1, Math.exp(random.normal(0.1))],
    sharpen: random.chance(0.6) ? random.uniform(0.4, 1.4) : 0,
    jpegQuality: random.int(80, 94),
    sent: { scale: 1 / RENDERED_OVER_SENT, jpegQuality: random.int(58, 85) },
  };
}
