import sharp from 'sharp';
import { zoneAt } from '../../src/face/line-rule.ts';
import { FACES, ringRadiiMm } from '../../src/face/faces.ts';
import { add, Camera, dot } from './camera.ts';
import { Random, valueNoise } from './random.ts';
import type { Rgb, Scene, Vec3 } from './scene.ts';
import { Sheet } from './sheet.ts';
import { StandingArrow } from './arrows.ts';

const TILE_PX = 16;
const SUBSAMPLES = [
  [0.25, 0.25],
  [0.75, 0.25],
  [0.25, 0.75],
  [0.75, 0.75],
] as const;

/** A JPEG of the scene with its truth, in the form of the truth files beside the test photos. */
export async function renderPhoto(scene: Scene, name: string) {
  const camera = new Camera(scene.camera);
  const sheet = new Sheet(scene);
  const arrows = scene.arrows.map((arrow) => new StandingArrow(arrow));
  const pixels = tracePixels(scene, camera, sheet, arrows);
  const { width, height } = scene.camera;
  let picture = sharp(pixels, { raw: { width, height, channels: 3 } });
  if (scene.finish.sharpen > 0) picture = picture.sharpen({ sigma: 0.8 + scene.finish.sharpen });
  const jpeg = await picture.jpeg({ quality: scene.finish.jpegQuality }).toBuffer();
  return { jpeg, truth: truthOf(scene, name, camera, sheet, arrows) };
}

function tracePixels(scene: Scene, camera: Camera, sheet: Sheet, arrows: StandingArrow[]): Buffer {
  const { width, height } = scene.camera;
  const tiles = arrowTiles(scene, camera, arrows);
  const tilesAcross = Math.ceil(width / TILE_PX);
  const shadows = arrows.map((arrow) => arrow.shadow(scene.light.sun));
  const linear = new Float32Array(width * height * 3);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const near = tiles.get(Math.floor(y / TILE_PX) * tilesAcross + Math.floor(x / TILE_PX));
      const at = (y * width + x) * 3;
      for (const [sx, sy] of SUBSAMPLES) {
        const ray = camera.ray(x + sx, y + sy);
        const sample = traceRay(scene, camera.place, ray, sheet, near, arrows, shadows);
        for (let k = 0; k < 3; k++) linear[at + k]! += sample[k]! / SUBSAMPLES.length;
      }
    }
  }
  return develop(scene, blur(linear, width, height, scene.finish.blurPx));
}

/** Which arrows may be seen in each tile of the picture. */
function arrowTiles(scene: Scene, camera: Camera, arrows: StandingArrow[]) {
  const across = Math.ceil(scene.camera.width / TILE_PX);
  const down = Math.ceil(scene.camera.height / TILE_PX);
  /** Tiles of the frame that a span of pixels touches; rear ends beside the camera span a lot. */
  const range = (fromPx: number, toPx: number, count: number) =>
    [
      Math.max(0, Math.floor(fromPx / TILE_PX)),
      Math.min(count - 1, Math.floor(toPx / TILE_PX)),
    ] as const;
  const tiles = new Map<number, StandingArrow[]>();
  for (const arrow of arrows) {
    const seen = new Set<number>();
    for (let i = 0; i <= 200; i++) {
      const p = arrow.at(i / 200);
      const [x, y] = camera.project(p);
      const [x2] = camera.project(add(p, [20, 0, 0]));
      const reach = Math.abs(x2 - x) + TILE_PX;
      const [top, bottom] = range(y - reach, y + reach, down);
      const [left, right] = range(x - reach, x + reach, across);
      for (let ty = top; ty <= bottom; ty++) {
        for (let tx = left; tx <= right; tx++) seen.add(ty * across + tx);
      }
    }
    for (const tile of seen) tiles.set(tile, [...(tiles.get(tile) ?? []), arrow]);
  }
  return tiles;
}

function traceRay(
  scene: Scene,
  origin: Vec3,
  ray: Vec3,
  sheet: Sheet,
  near: StandingArrow[] | undefined,
  arrows: StandingArrow[],
  shadows: [number, number][][],
): Rgb {
  if (near) {
    const hits = near.flatMap((arrow) => arrow.hit(origin, ray) ?? []);
    const first = hits.sort((a, b) => a.distance - b.distance)[0];
    if (first) {
      const facing = dot(first.normal, ray) > 0 ? -1 : 1;
      const lit = Math.max(0, facing * dot(first.normal, scene.light.sun));
      const mirror = add(ray, first.normal, -2 * dot(ray, first.normal));
      const glint = first.shiny * Math.pow(Math.max(0, dot(mirror, scene.light.sun)), 12);
      return scene.light.sunStrength.map(
        (sun, k) => first.colour[k]! * (sun * lit + scene.light.sky[k]!) + glint * (sun + 0.3),
      ) as unknown as Rgb;
    }
  }
  if (ray[2] >= -0.02) return [0.55, 0.62, 0.75];
  let s = -origin[2] / ray[2];
  for (let i = 0; i < 3; i++) {
    const p = add(origin, ray, s);
    s = (sheet.heightMm(p[0], p[1]) - origin[2]) / ray[2];
  }
  const [x, y] = add(origin, ray, s);
  return shade(scene, surface(scene, sheet, x, y), x, y, arrows, shadows);
}

function surface(scene: Scene, sheet: Sheet, x: number, y: number): Rgb {
  if (sheet.contains(x, y)) return sheet.albedo(x, y);
  const other = scene.neighbourMm;
  if (other && sheet.contains(x - other[0], y - other[1])) {
    return sheet.print(x - other[0], y - other[1]);
  }
  const { boss, seed } = scene;
  const reach = other ? Math.abs(other[0]) + boss.halfMm : boss.halfMm;
  if (Math.abs(x) < reach && Math.abs(y) < boss.halfMm) {
    if (boss.kind === 'straw') {
      const r = Math.hypot(x, y);
      const coil = 0.5 + 0.5 * Math.sin(r / 4.5 + valueNoise(x / 30, y / 30, seed) * 2);
      const straw = 0.25 + 0.35 * coil + 0.1 * valueNoise(x / 3, y / 3, seed + 2);
      return [straw * 0.85, straw * 0.62, straw * 0.25];
    }
    if (boss.kind === 'foam') {
      const layer = Math.floor((y + 4000) / 38) % 3;
      const tone = [0.06, 0.35, 0.12][layer]! * (1 + 0.2 * valueNoise(x / 8, y / 3, seed));
      return [tone, tone * 1.02, tone * 1.15];
    }
    const tone = 0.3 + 0.15 * valueNoise(x / 5, y / 5, seed) + 0.1 * valueNoise(x, y, seed + 1);
    return [tone * 0.55, tone * 0.75, tone * 0.4];
  }
  const far =
    0.16 + 0.1 * valueNoise(x / 60, y / 60, seed + 4) + 0.05 * valueNoise(x / 9, y / 9, seed);
  return y > 0 ? [far * 0.8, far * 1.1, far * 0.7] : [far * 0.6, far, far * 0.35];
}

function shade(
  scene: Scene,
  albedo: Rgb,
  x: number,
  y: number,
  arrows: StandingArrow[],
  shadows: [number, number][][],
): Rgb {
  const { light, seed } = scene;
  let sun = Math.max(0, light.sun[2]);
  for (const edge of light.edges) {
    const d = x * Math.cos(edge.angle) + y * Math.sin(edge.angle) - edge.offsetMm;
    sun *= 1 - edge.dark / (1 + Math.exp(-d / edge.softMm));
  }
  if (light.dapple > 0) {
    const leaf =
      valueNoise(x / 45, y / 45, seed + 21) + 0.5 * valueNoise(x / 18, y / 18, seed + 22);
    sun *= 1 - light.dapple / (1 + Math.exp(-leaf * 9));
  }
  for (const [i, line] of shadows.entries()) {
    sun *= 1 - shadowAt(line, x, y, arrows[i]!.arrow.radiusMm, light.sun[2]);
  }
  const vignette = 1 - (0.08 * Math.hypot(x, y)) / (scene.paperHalfMm[0] * 2);
  return albedo.map(
    (a, k) => a * (light.sunStrength[k]! * sun + light.sky[k]!) * vignette,
  ) as unknown as Rgb;
}

function shadowAt(line: [number, number][], x: number, y: number, radiusMm: number, sunZ: number) {
  let dark = 0;
  for (let i = 0; i + 1 < line.length; i++) {
    const [ax, ay] = line[i]!;
    const [bx, by] = line[i + 1]!;
    const [ux, uy] = [bx - ax, by - ay];
    const t = ((x - ax) * ux + (y - ay) * uy) / (ux * ux + uy * uy);
    if (t < -0.02 || t > 1.02) continue;
    const d = Math.hypot(x - ax - t * ux, y - ay - t * uy);
    const soft = 0.4 + ((i + t) / line.length) * 4.5 * Math.min(2, 1 / Math.max(0.2, sunZ));
    dark = Math.max(dark, 1 / (1 + Math.exp((d - radiusMm) / (soft * 0.5))));
  }
  return dark * 0.95;
}

/** Separable Gaussian on linear light. */
function blur(data: Float32Array, width: number, height: number, sd: number): Float32Array {
  const half = Math.ceil(sd * 3);
  const kernel = Array.from({ length: 2 * half + 1 }, (_, i) =>
    Math.exp(-((i - half) ** 2) / (2 * sd * sd)),
  );
  const sum = kernel.reduce((a, b) => a + b);
  const pass = (
    from: Float32Array,
    step: number,
    length: number,
    offset: (i: number) => number,
  ) => {
    const to = new Float32Array(from.length);
    const lines = from.length / 3 / length;
    for (let line = 0; line < lines; line++) {
      for (let i = 0; i < length; i++) {
        for (let k = 0; k < 3; k++) {
          let v = 0;
          for (let j = -half; j <= half; j++) {
            const at = Math.min(length - 1, Math.max(0, i + j));
            v += kernel[j + half]! * from[offset(line) + at * step + k]!;
          }
          to[offset(line) + i * step + k] = v / sum;
        }
      }
    }
    return to;
  };
  const rows = pass(data, 3, width, (line) => line * width * 3);
  return pass(rows, width * 3, height, (line) => line * 3);
}

/** Exposure, white balance, noise and the sRGB curve. */
function develop(scene: Scene, linear: Float32Array): Buffer {
  const random = new Random(scene.seed + 99);
  const { exposure, tint, noise } = scene.finish;
  const out = Buffer.alloc(linear.length);
  for (let i = 0; i < linear.length; i++) {
    const v = linear[i]! * exposure * tint[i % 3]!;
    const noisy = v + random.normal(noise) * Math.sqrt(v + 0.02);
    const encoded = Math.pow(Math.min(1, Math.max(0, noisy)), 1 / 2.2);
    out[i] = Math.round(255 * encoded);
  }
  return out;
}

function truthOf(
  scene: Scene,
  name: string,
  camera: Camera,
  sheet: Sheet,
  arrows: StandingArrow[],
) {
  const face = FACES[scene.face];
  const { width, height } = scene.camera;
  const onPaper = (x: number, y: number) => camera.project([x, y, sheet.heightMm(x, y)]);
  const inFrame = ([x, y]: [number, number]) => x > 2 && y > 2 && x < width - 2 && y < height - 2;
  const spotOf = (x: number, y: number) => {
    const distances = face.spotCentresMm.map((c) => Math.hypot(x - c[0], y - c[1]));
    return distances.indexOf(Math.min(...distances));
  };
  const centre = onPaper(0, 0);
  const above = onPaper(0, 5);
  const up = Math.hypot(above[0] - centre[0], above[1] - centre[1]);
  const entries = [
    ...scene.shots.map((shot) => ({ kind: shot.kind, mm: shot.mm, arrow: null })),
    ...arrows.map((arrow) => ({ kind: arrow.arrow.kind, mm: arrow.arrow.entryMm, arrow })),
  ];
  return {
    photo: name,
    width,
    height,
    face: scene.face,
    category: scene.category,
    pairOf: null,
    phase: null,
    handedness: scene.hand,
    distance_m: scene.distanceM,
    shaft_mm: scene.shaftMm,
    spots: face.spotCentresMm.map(([cx, cy]) => ({
      centre_mm: [cx, cy],
      centre_px: onPaper(cx, cy),
      rings: ringRadiiMm(face).map((radius) => ({
        radius_mm: radius,
        px: Array.from({ length: 72 }, (_, i) => {
          const angle = (i * 5 * Math.PI) / 180;
          const p = onPaper(cx + radius * Math.cos(angle), cy + radius * Math.sin(angle));
          return inFrame(p) ? p : null;
        }),
      })),
    })),
    up_px: [(above[0] - centre[0]) / up, (above[1] - centre[1]) / up],
    shots: entries.map(({ kind, mm, arrow }, i) => {
      const spot = spotOf(mm[0], mm[1]);
      const c = face.spotCentresMm[spot]!;
      const spotMm = [mm[0] - c[0], mm[1] - c[1]] as const;
      const { value, inner } = zoneAt(face, spotMm, scene.shaftMm);
      const px = onPaper(mm[0], mm[1]);
      return {
        id: i + 1,
        kind,
        spot,
        mm,
        px,
        spot_mm: spotMm,
        shaft_mm: scene.shaftMm,
        zone: value,
        inner,
        visible: inFrame(px) && (arrow === null || entryVisible(camera, arrow, arrows)),
        ...(arrow ? { nock_px: camera.project(arrow.at(1)) } : {}),
      };
    }),
    old: scene.old.map((hole) => {
      const spot = spotOf(hole.mm[0], hole.mm[1]);
      const c = face.spotCentresMm[spot]!;
      const px = onPaper(hole.mm[0], hole.mm[1]);
      return {
        mm: hole.mm,
        px,
        spot,
        spot_mm: [hole.mm[0] - c[0], hole.mm[1] - c[1]],
        in_frame: inFrame(px),
      };
    }),
    conditions: { seed: scene.seed, tilt_deg: (scene.camera.tilt * 180) / Math.PI },
  };
}

/** An entry counts as seen when at least a third of the shaft just above it is not covered. */
function entryVisible(camera: Camera, own: StandingArrow, arrows: StandingArrow[]): boolean {
  let seen = 0;
  const steps = 12;
  for (let i = 0; i < steps; i++) {
    const p = own.at((2 + i * 2) / own.arrow.lengthMm);
    const toward = add(p, camera.place, -1);
    const distance = Math.hypot(...toward);
    const ray: Vec3 = [toward[0] / distance, toward[1] / distance, toward[2] / distance];
    const covered = arrows.some((other) => {
      const hit = other === own ? null : other.hit(camera.place, ray);
      return hit !== null && hit.distance < distance;
    });
    if (!covered) seen++;
  }
  return seen >= steps / 3;
}
