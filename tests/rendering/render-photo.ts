import sharp from 'sharp';
import { zoneAt } from '../../src/face/line-rule.ts';
import { FACES, ringRadiiMm } from '../../src/face/faces.ts';
import { add, Camera, dot } from './camera.ts';
import { Random, valueNoise } from './random.ts';
import type { Rgb, Scene, Vec3 } from './scene.ts';
import { Sheet } from './sheet.ts';
import { StandingArrow, type ArrowHit } from './arrows.ts';

const TILE_PX = 16;
const SUBSAMPLES = [
  [0.25, 0.25],
  [0.75, 0.25],
  [0.25, 0.75],
  [0.75, 0.75],
] as const;

/** What is spread over less than this is drawn as sharp. */
const SHARP_PX = 0.8;

const SKY: Rgb = [0.55, 0.62, 0.75];

/** Places on the lens, in a unit disc, for what is out of focus. */
const LENS = Array.from({ length: 12 }, (_, i): readonly [number, number] => {
  const [radius, angle] = [Math.sqrt((i + 0.5) / 12), i * 2.39996];
  return [radius * Math.cos(angle), radius * Math.sin(angle)];
});

/** All that decides the colour of a point. */
interface Lit {
  readonly scene: Scene;
  readonly sheet: Sheet;
  readonly arrows: readonly StandingArrow[];
  /** The sun first; how much of it reaches a place is not in its strength. */
  readonly lights: readonly Light[];
}

interface Light {
  readonly towards: Vec3;
  readonly strength: number;
  readonly shadows: readonly Shadow[];
}

interface Shadow {
  /** From each point of its middle line to the next: x, y, and how far on in x and y. */
  readonly pieces: Float64Array;
  readonly radiusMm: number;
  /** Least and greatest x and y, with room for the soft edge. */
  readonly box: readonly [number, number, number, number];
  /** A strip with all that is seen of it: unit normal, distance of its middle from the origin, half-width. */
  readonly strip: readonly [x: number, y: number, offset: number, half: number];
}

/** How soft a shadow is at a share of its length. */
function softnessMm(share: number, sunZ: number): number {
  return 0.4 + share * 4.5 * Math.min(2, 1 / Math.max(0.2, sunZ));
}

/** Beyond so many times its softness beside it, nothing of a shadow is seen in eight bits. */
const FAR_SOFT = 8.5;

function lightsOf({ light }: Scene, arrows: readonly StandingArrow[]): Light[] {
  const lights = [{ towards: light.sun, strength: 1 }, ...light.lamps];
  return lights.map(({ towards, strength }) => ({
    towards,
    strength,
    shadows: arrows.map((arrow) => {
      const line = arrow.shadow(towards);
      const [xs, ys] = [line.map(([x]) => x), line.map(([, y]) => y)];
      const { radiusMm } = arrow.arrow;
      const room = 40 + radiusMm;
      const box = [
        Math.min(...xs) - room,
        Math.max(...xs) + room,
        Math.min(...ys) - room,
        Math.max(...ys) + room,
      ] as const;
      const [[ax, ay], [bx, by]] = [line[0]!, line.at(-1)!];
      const length = Math.hypot(bx - ax, by - ay);
      const [nx, ny] = length > 0 ? [(ay - by) / length, (bx - ax) / length] : [0, 0];
      const bend = Math.max(...line.map(([x, y]) => Math.abs(nx * (x - ax) + ny * (y - ay))));
      const half = bend + radiusMm + FAR_SOFT * softnessMm(1.02, towards[2]);
      const pieces = Float64Array.from(
        line.slice(1).flatMap(([x, y], i) => [...line[i]!, x - line[i]![0], y - line[i]![1]]),
      );
      return { pieces, radiusMm, box, strip: [nx, ny, nx * ax + ny * ay, half] as const };
    }),
  }));
}

/** A JPEG of the scene with its truth, in the form of the truth files beside the test photos. */
export async function renderPhoto(scene: Scene, name: string) {
  const camera = new Camera(scene.camera);
  const sheet = new Sheet(scene);
  const arrows = scene.arrows.map((arrow) => {
    const at = sheet.inSpace(arrow.entryMm);
    return new StandingArrow(arrow, [...at, sheet.heightMm(...at)]);
  });
  const pixels = tracePixels(scene, camera, sheet, arrows);
  const { width, height } = scene.camera;
  let picture = sharp(pixels, { raw: { width, height, channels: 3 } });
  if (scene.finish.sharpen > 0) picture = picture.sharpen({ sigma: 0.8 + scene.finish.sharpen });
  const jpeg = await picture.jpeg({ quality: scene.finish.jpegQuality }).toBuffer();
  const truth = truthOf(scene, name, camera, sheet, arrows);
  return { jpeg: scene.finish.sent ? await sentOn(jpeg, scene.finish.sent, truth) : jpeg, truth };
}

/** What arrives of a photo: shrunk, and compressed once more. */
function sentOn(
  jpeg: Buffer,
  { jpegQuality }: NonNullable<Scene['finish']['sent']>,
  { width, height }: { width: number; height: number },
): Promise<Buffer> {
  return sharp(jpeg)
    .resize(width, height, { fit: 'fill' })
    .jpeg({ quality: jpegQuality })
    .toBuffer();
}

function tracePixels(scene: Scene, camera: Camera, sheet: Sheet, arrows: StandingArrow[]): Buffer {
  const { width, height } = scene.camera;
  const tiles = arrowTiles(scene, camera, arrows);
  const tilesAcross = Math.ceil(width / TILE_PX);
  const lit: Lit = { scene, sheet, arrows, lights: lightsOf(scene, arrows) };
  const linear = new Float32Array(width * height * 3);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const near = tiles.get(Math.floor(y / TILE_PX) * tilesAcross + Math.floor(x / TILE_PX));
      const at = (y * width + x) * 3;
      if (near && near.spreadPx > SHARP_PX) {
        const turn = 2 * Math.PI * valueNoise(x * 7.31, y * 5.77, 3);
        for (const [i, [u, v]] of LENS.entries()) {
          const [sx, sy] = SUBSAMPLES[i % SUBSAMPLES.length]!;
          const [c, s] = [Math.cos(turn), Math.sin(turn)];
          const middle = camera.ray(x + sx, y + sy);
          const { origin, ray } = camera.throughLens(middle, u * c - v * s, u * s + v * c);
          const sample = traceRay(lit, origin, ray, near.arrows);
          for (let k = 0; k < 3; k++) linear[at + k]! += sample[k]! / LENS.length;
        }
        continue;
      }
      for (let i = 0; i < SUBSAMPLES.length; i++) {
        const ray = camera.ray(x + SUBSAMPLES[i]![0], y + SUBSAMPLES[i]![1]);
        const sample = traceRay(lit, camera.place, ray, near?.arrows);
        for (let k = 0; k < 3; k++) linear[at + k]! += sample[k]! / SUBSAMPLES.length;
      }
    }
  }
  return develop(scene, blur(linear, width, height, scene.finish.blurPx));
}

interface Tile {
  readonly arrows: StandingArrow[];
  /** How far its most blurred piece of an arrow is spread. */
  spreadPx: number;
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
  const tiles = new Map<number, Tile>();
  for (const arrow of arrows) {
    const seen = new Map<number, number>();
    for (let i = 0; i <= 200; i++) {
      const p = arrow.at(i / 200);
      const [x, y] = camera.project(p);
      const depth = camera.depthMm(p);
      if (depth < 1) continue;
      const besideMm = arrow.arrow.radiusMm + arrow.arrow.vane.heightMm;
      const spreadPx = camera.spreadPx(depth);
      const reach = (besideMm * scene.camera.focalPx) / depth + spreadPx + TILE_PX;
      const [top, bottom] = range(y - reach, y + reach, down);
      const [left, right] = range(x - reach, x + reach, across);
      for (let ty = top; ty <= bottom; ty++) {
        for (let tx = left; tx <= right; tx++) {
          const at = ty * across + tx;
          seen.set(at, Math.max(spreadPx, seen.get(at) ?? 0));
        }
      }
    }
    for (const [at, spreadPx] of seen) {
      const tile = tiles.get(at) ?? { arrows: [], spreadPx: 0 };
      tile.arrows.push(arrow);
      tile.spreadPx = Math.max(tile.spreadPx, spreadPx);
      tiles.set(at, tile);
    }
  }
  return tiles;
}

function traceRay(lit: Lit, origin: Vec3, ray: Vec3, near: StandingArrow[] | undefined): Rgb {
  const { scene, sheet } = lit;
  if (near) {
    const hits = near.flatMap((arrow) => arrow.hit(origin, ray) ?? []);
    const first = hits.sort((a, b) => a.distance - b.distance)[0];
    if (first) {
      const at = add(origin, ray, first.distance);
      // Paper that is not level hides the foot of a shaft that it rises in front of.
      if (at[2] > sheet.heightMm(at[0], at[1])) return arrowColour(lit, at, ray, first);
    }
  }
  if (ray[2] >= -0.02) return SKY;
  let s = -origin[2] / ray[2];
  for (let i = 0; i < 3; i++) {
    const height = sheet.heightMm(origin[0] + s * ray[0], origin[1] + s * ray[1]);
    s = (height - origin[2]) / ray[2];
  }
  const x = origin[0] + s * ray[0];
  const y = origin[1] + s * ray[1];
  return shade(lit, surface(scene, sheet, x, y), x, y);
}

function arrowColour({ scene, sheet, lights }: Lit, at: Vec3, ray: Vec3, hit: ArrowHit): Rgb {
  const { light } = scene;
  const toward = dot(hit.normal, ray) > 0 ? -1 : 1;
  const mirror = add(ray, hit.normal, -2 * dot(ray, hit.normal));
  let direct = 0;
  let glint = 0;
  for (const { towards, strength } of lights) {
    direct += strength * Math.max(0, toward * dot(hit.normal, towards));
    glint += strength * hit.shiny * Math.pow(Math.max(0, dot(mirror, towards)), 12);
  }
  const own = [0, 1, 2].map(
    (k) =>
      hit.colour[k]! * (light.sunStrength[k]! * direct + light.sky[k]!) +
      glint * (light.sunStrength[k]! + 0.3),
  );
  if (hit.gloss === 0) return own as unknown as Rgb;
  // A polished shaft mirrors the face in front of it and the sky behind, the more at a grazing view.
  const grazing = Math.pow(1 - Math.min(1, Math.abs(dot(hit.normal, ray))), 4);
  const share = hit.gloss * (0.25 + 0.55 * grazing);
  const around = mirror[2] < -0.02 ? mirrored(scene, sheet, at, mirror) : light.sky;
  return own.map((v, k) => v * (1 - share) + share * around[k]!) as unknown as Rgb;
}

/** What a mirror at a point shows of the sheet, lit without shadows. */
function mirrored(scene: Scene, sheet: Sheet, at: Vec3, ray: Vec3): Rgb {
  const s = -at[2] / ray[2];
  const [x, y] = add(at, ray, s);
  const seen = surface(scene, sheet, x, y);
  const { sun, sunStrength, sky } = scene.light;
  return seen.map((v, k) => v * (sunStrength[k]! * sun[2] + sky[k]!)) as unknown as Rgb;
}

function surface(scene: Scene, sheet: Sheet, x: number, y: number): Rgb {
  for (const pin of scene.pins) {
    const [dx, dy] = [x - pin.mm[0], y - pin.mm[1]];
    if (dx * dx + dy * dy < pin.radiusMm ** 2) return pin.colour;
  }
  if (sheet.contains(x, y)) return sheet.albedo(x, y);
  for (const [ox, oy] of scene.neighboursMm) {
    if (sheet.contains(x - ox, y - oy)) return sheet.print(x - ox, y - oy);
  }
  const { boss, seed } = scene;
  const [c, s] = [Math.cos(boss.turn), Math.sin(boss.turn)];
  const onBoss = Math.abs(x * c + y * s) < boss.halfMm[0];
  if (onBoss && Math.abs(y * c - x * s) < boss.halfMm[1]) {
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
    if (boss.kind === 'planks') {
      const board = Math.floor((x + 5000) / 145);
      const gap = (x + 5000) / 145 - board < 0.02 ? 0.3 : 1;
      const grain = 0.34 + 0.1 * valueNoise(x / 4, y / 120, seed + board);
      return [grain * gap, grain * 0.66 * gap, grain * 0.36 * gap];
    }
    const tone = 0.3 + 0.15 * valueNoise(x / 5, y / 5, seed) + 0.1 * valueNoise(x, y, seed + 1);
    return [tone * 0.55, tone * 0.75, tone * 0.4];
  }
  const far =
    0.16 + 0.1 * valueNoise(x / 60, y / 60, seed + 4) + 0.05 * valueNoise(x / 9, y / 9, seed);
  return y > 0 ? [far * 0.8, far * 1.1, far * 0.7] : [far * 0.6, far, far * 0.35];
}

function shade({ scene, sheet, arrows, lights }: Lit, albedo: Rgb, x: number, y: number): Rgb {
  const { light, seed } = scene;
  let sun = 1;
  for (const edge of light.edges) {
    const d = x * Math.cos(edge.angle) + y * Math.sin(edge.angle) - edge.offsetMm;
    sun *= 1 - edge.dark / (1 + Math.exp(-d / edge.softMm));
  }
  if (light.dapple > 0) {
    const leaf =
      valueNoise(x / 45, y / 45, seed + 21) + 0.5 * valueNoise(x / 18, y / 18, seed + 22);
    sun *= 1 - light.dapple / (1 + Math.exp(-leaf * 9));
  }
  let direct = 0;
  for (let n = 0; n < lights.length; n++) {
    const { towards, strength, shadows } = lights[n]!;
    let open = Math.max(0, towards[2]) * strength * (n === 0 ? sun : 1);
    for (let i = 0; i < shadows.length; i++) open *= 1 - shadowAt(shadows[i]!, x, y, towards[2]);
    direct += open;
  }
  let sky = 1;
  if (light.contact > 0) {
    for (let i = 0; i < arrows.length; i++) {
      const { arrow, points } = arrows[i]!;
      const { radiusMm } = arrow;
      const [dx, dy] = [x - points[0]![0], y - points[0]![1]];
      if (dx * dx + dy * dy > 25 * radiusMm * radiusMm) continue;
      const apart = Math.hypot(dx, dy) / radiusMm - 1;
      sky *= 1 - light.contact * Math.exp(-Math.max(0, apart));
    }
  }
  const vignette = 1 - (0.08 * Math.hypot(x, y)) / (scene.paperHalfMm[0] * 2);
  const more = vignette * sheet.rippleLight(x, y);
  return [
    albedo[0] * (light.sunStrength[0] * direct + light.sky[0] * sky) * more,
    albedo[1] * (light.sunStrength[1] * direct + light.sky[1] * sky) * more,
    albedo[2] * (light.sunStrength[2] * direct + light.sky[2] * sky) * more,
  ];
}

function shadowAt(
  { pieces, radiusMm, box, strip }: Shadow,
  x: number,
  y: number,
  sunZ: number,
): number {
  if (x < box[0] || x > box[1] || y < box[2] || y > box[3]) return 0;
  if (Math.abs(strip[0] * x + strip[1] * y - strip[2]) > strip[3]) return 0;
  let dark = 0;
  const points = pieces.length / 4 + 1;
  for (let i = 0; i + 1 < points; i++) {
    const [dx, dy] = [x - pieces[4 * i]!, y - pieces[4 * i + 1]!];
    const [ux, uy] = [pieces[4 * i + 2]!, pieces[4 * i + 3]!];
    const t = (dx * ux + dy * uy) / (ux * ux + uy * uy);
    if (t < -0.02 || t > 1.02) continue;
    const soft = softnessMm((i + t) / points, sunZ);
    const d = Math.sqrt((dx - t * ux) ** 2 + (dy - t * uy) ** 2);
    if (d > radiusMm + FAR_SOFT * soft) continue;
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
  const pass = (from: Float32Array, step: number, length: number, lineStep: number) => {
    const to = new Float32Array(from.length);
    const lines = from.length / 3 / length;
    for (let line = 0; line < lines; line++) {
      for (let i = 0; i < length; i++) {
        let [r, g, b] = [0, 0, 0];
        for (let j = -half; j <= half; j++) {
          const at = line * lineStep + Math.min(length - 1, Math.max(0, i + j)) * step;
          const share = kernel[j + half]!;
          r += share * from[at]!;
          g += share * from[at + 1]!;
          b += share * from[at + 2]!;
        }
        const at = line * lineStep + i * step;
        to[at] = r / sum;
        to[at + 1] = g / sum;
        to[at + 2] = b / sum;
      }
    }
    return to;
  };
  return pass(pass(data, 3, width, width * 3), width * 3, height, 3);
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
  const scale = scene.finish.sent?.scale ?? 1;
  const width = Math.round(scene.camera.width * scale);
  const height = Math.round(scene.camera.height * scale);
  const [across, down] = [width / scene.camera.width, height / scene.camera.height];
  const inPicture = (point: Vec3): [number, number] => {
    const [x, y] = camera.project(point);
    return [x * across, y * down];
  };
  const onPaper = (x: number, y: number) => {
    const at = sheet.inSpace([x, y]);
    return inPicture([...at, sheet.heightMm(...at)]);
  };
  const inFrame = ([x, y]: [number, number]) => x > 2 && y > 2 && x < width - 2 && y < height - 2;
  const spotOf = (x: number, y: number) => {
    const distances = face.spotCentresMm.map((c) => Math.hypot(x - c[0], y - c[1]));
    return distances.indexOf(Math.min(...distances));
  };
  const centre = onPaper(0, 0);
  const above = onPaper(0, 5);
  const up = Math.hypot(above[0] - centre[0], above[1] - centre[1]);
  const entries = [
    ...scene.shots.map(({ kind, mm }) => ({ kind, mm, shaftMm: scene.shaftMm, arrow: null })),
    ...arrows.map((arrow) => ({
      kind: arrow.arrow.kind,
      mm: arrow.arrow.entryMm,
      shaftMm: 2 * arrow.arrow.radiusMm,
      arrow,
    })),
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
    said: { shaft_mm: scene.saidShaftMm },
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
    shots: entries.map(({ kind, mm, shaftMm, arrow }, i) => {
      const spot = spotOf(mm[0], mm[1]);
      const c = face.spotCentresMm[spot]!;
      const spotMm = [mm[0] - c[0], mm[1] - c[1]] as const;
      const { value, inner } = zoneAt(face, spotMm, shaftMm);
      const px = onPaper(mm[0], mm[1]);
      return {
        id: i + 1,
        kind,
        spot,
        mm,
        px,
        spot_mm: spotMm,
        shaft_mm: shaftMm,
        zone: value,
        inner,
        visible: inFrame(px) && (arrow === null || entryVisible(camera, arrow, arrows)),
        ...(arrow ? { nock_px: inPicture(arrow.at(1)) } : {}),
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

/** What covers an entry from this far above it is the arrow's own rear end, seen end-on. */
const OWN_REAR_MM = 60;

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
      const hit = other.hit(camera.place, ray);
      return hit !== null && hit.distance < distance - (other === own ? OWN_REAR_MM : 0);
    });
    if (!covered) seen++;
  }
  return seen >= steps / 3;
}
