import { FACES, type Face } from '../../src/face/faces.ts';
import { valueNoise } from './random.ts';
import type { Hole, Rgb, Scene } from './scene.ts';

/** Segments of figures on a 2 x 4 grid: x right, y up. */
const STROKES: Record<string, readonly (readonly [number, number, number, number])[]> = {
  '0': [
    [0, 0, 2, 0],
    [2, 0, 2, 4],
    [2, 4, 0, 4],
    [0, 4, 0, 0],
  ],
  '1': [
    [1, 0, 1, 4],
    [0, 3, 1, 4],
  ],
  '2': [
    [0, 4, 2, 4],
    [2, 4, 2, 2],
    [2, 2, 0, 0],
    [0, 0, 2, 0],
  ],
  '3': [
    [0, 4, 2, 4],
    [2, 4, 2, 0],
    [0, 2, 2, 2],
    [0, 0, 2, 0],
  ],
  '4': [
    [0, 4, 0, 2],
    [0, 2, 2, 2],
    [1.5, 4, 1.5, 0],
  ],
  '5': [
    [2, 4, 0, 4],
    [0, 4, 0, 2],
    [0, 2, 2, 2],
    [2, 2, 2, 0],
    [2, 0, 0, 0],
  ],
  '6': [
    [2, 4, 0, 3],
    [0, 3, 0, 0],
    [0, 0, 2, 0],
    [2, 0, 2, 2],
    [2, 2, 0, 2],
  ],
  '7': [
    [0, 4, 2, 4],
    [2, 4, 0.5, 0],
  ],
  '8': [
    [0, 0, 2, 0],
    [2, 0, 2, 4],
    [2, 4, 0, 4],
    [0, 4, 0, 0],
    [0, 2, 2, 2],
  ],
  '9': [
    [2, 2, 0, 2],
    [0, 2, 0, 4],
    [0, 4, 2, 4],
    [2, 4, 2, 0],
  ],
};

const CELL_MM = 16;

function mix(a: Rgb, b: Rgb, t: number): Rgb {
  return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, a[2] + (b[2] - a[2]) * t];
}

function segmentDistance(x: number, y: number, s: readonly [number, number, number, number]) {
  const ux = s[2] - s[0];
  const uy = s[3] - s[1];
  const t = Math.max(0, Math.min(1, ((x - s[0]) * ux + (y - s[1]) * uy) / (ux * ux + uy * uy)));
  return Math.hypot(x - s[0] - t * ux, y - s[1] - t * uy);
}

/** A printed, shot-at sheet: reflectance at any point of it. */
export class Sheet {
  readonly #scene: Scene;
  readonly #face: Face;
  readonly #holes = new Map<string, Hole[]>();
  readonly #turn: readonly [number, number];

  constructor(scene: Scene) {
    this.#scene = scene;
    this.#face = FACES[scene.face];
    this.#turn = [Math.cos(scene.paperTurn), Math.sin(scene.paperTurn)];
    for (const hole of [...scene.old, ...scene.shots, ...scene.torn]) {
      const [cx, cy] = [Math.floor(hole.mm[0] / CELL_MM), Math.floor(hole.mm[1] / CELL_MM)];
      for (let i = cx - 1; i <= cx + 1; i++) {
        for (let j = cy - 1; j <= cy + 1; j++) {
          const key = `${i},${j}`;
          this.#holes.set(key, [...(this.#holes.get(key) ?? []), hole]);
        }
      }
    }
  }

  /** Height of the paper above its plane. */
  heightMm(x: number, y: number): number {
    const [hx, hy] = this.#scene.paperHalfMm;
    const u = x / hx;
    const v = y / hy;
    if (Math.abs(u) > 1 || Math.abs(v) > 1) return 0;
    const bulge = (1 - u * u) * (1 - v * v) * (1 + 0.5 * Math.sin(3 * u + 2 * v));
    const { bulgeMm, rippleMm, unevenMm, seed } = this.#scene;
    let smooth = bulgeMm * bulge;
    if (rippleMm !== 0) {
      // Loose paper ripples where nothing holds it, towards its edges.
      const loose = Math.max(u * u, v * v) ** 2;
      const ripple = Math.sin(x / 38 + seed) * Math.cos(y / 46 + seed * 2);
      smooth += rippleMm * loose * (1 + ripple);
    }
    if (unevenMm === 0) return smooth;
    // Dents and bumps of a shot-at boss, about as wide as a third of the face and half of that.
    const wide = hx * 0.45;
    const dents =
      valueNoise(x / wide + 11, y / wide, seed + 31) +
      0.4 * valueNoise((2 * x) / wide, (2 * y) / wide + 5, seed + 32);
    return smooth + unevenMm * dents;
  }

  /** How much more or less light its ripples catch than flat paper. */
  rippleLight(x: number, y: number): number {
    if (this.#scene.rippleMm === 0 && this.#scene.unevenMm === 0) return 1;
    const slope = (this.heightMm(x + 1, y) - this.heightMm(x, y + 1)) * 2;
    return 1 + Math.max(-0.3, Math.min(0.3, slope));
  }

  contains(x: number, y: number): boolean {
    const [hx, hy] = this.#scene.paperHalfMm;
    const [c, s] = this.#turn;
    const ax = Math.abs(x * c + y * s);
    const ay = Math.abs(y * c - x * s);
    if (ax > hx || ay > hy) return false;
    return hx - ax + (hy - ay) > this.#scene.cornerCutMm;
  }

  /** Where a place of the print lies in space, mm, beside the paper's height. */
  inSpace([x, y]: readonly [number, number]): [number, number] {
    const { across, up, skew } = this.#scene.stretch;
    return [(1 + across) * x + skew * y, (1 + up) * y + skew * x];
  }

  /** Reflectance of the sheet at a place in space, which must be on it. */
  albedo(x: number, y: number): Rgb {
    const { across, up, skew } = this.#scene.stretch;
    const size = (1 + across) * (1 + up) - skew * skew;
    const px = ((1 + up) * x - skew * y) / size;
    const py = ((1 + across) * y - skew * x) / size;
    return this.#withHoles(this.print(px, py), px, py);
  }

  /** Coordinates along the paper's own edges. */
  #onPaper(x: number, y: number): [number, number] {
    const [c, s] = this.#turn;
    return [x * c + y * s, y * c - x * s];
  }

  /** Reflectance of the print alone. */
  print(sheetX: number, sheetY: number): Rgb {
    const { print, paperHalfMm, seed } = this.#scene;
    const [x, y] = this.#onPaper(sheetX, sheetY);
    let best = this.#face.spotCentresMm[0]!;
    let r = Infinity;
    for (const spot of this.#face.spotCentresMm) {
      const d = Math.hypot(x - spot[0], y - spot[1]);
      if (d < r) [r, best] = [d, spot];
    }
    let colour = print.inks.white;
    let dark = 0;
    let light = 0;
    for (const zone of this.#face.zones) {
      if (r > zone.outerRadiusMm) break;
      colour = print.inks[zone.ink];
      const inside = zone.outerRadiusMm - r;
      if (inside <= print.lineWidthMm) {
        if (zone.line === 'dark') dark = 1;
        if (zone.line === 'light') light = 1;
      }
      if (zone.value === 5 && zone.ink === 'blue' && inside < print.darkRimMm) {
        colour = mix(colour, print.inks.black, 0.6);
      }
    }
    const inner = this.#face.innerRadiusMm;
    if (inner !== null && r <= inner && inner - r <= print.lineWidthMm * 0.8) {
      if (this.#face.innerLine === 'light') light = 1;
      else dark = 1;
    }
    const [dx, dy] = [x - best[0], y - best[1]];
    const arm = this.#face.zones.at(-1)!.outerRadiusMm * 0.06;
    if ((Math.abs(dx) < 0.5 && Math.abs(dy) < arm) || (Math.abs(dy) < 0.5 && Math.abs(dx) < arm)) {
      dark = 1;
    }
    if (this.#onNumber(dx, dy, r)) {
      if (colour === print.inks.black) light = 1;
      else dark = 1;
    }
    if (dark) colour = mix(colour, print.inks.black, 0.9);
    if (light) colour = mix(colour, print.inks.white, 0.9);
    if (print.logo) {
      const [hx, hy] = paperHalfMm;
      const [u, v] = [(x + hx * 0.86) / (hx * 0.07), (y + hy * 0.86) / (hy * 0.05)];
      if (Math.abs(u) < 1 && Math.abs(v) < 1 && Math.abs(u * v) > 0.08) colour = print.logo;
      const fine = y - (hy - 6);
      if (Math.abs(fine) < 1 && x > 0 && x < hx * 0.5 && valueNoise(x * 1.3, 0, 5) > 0.1) {
        colour = mix(colour, print.inks.black, 0.7);
      }
    }
    if (print.gridStrength > 0) {
      const pitch = print.gridPitchMm;
      const offX = Math.abs(x - pitch * Math.round(x / pitch));
      const offY = Math.abs(y - pitch * Math.round(y / pitch));
      if (Math.min(offX, offY) < 0.35) {
        colour = mix(colour, [0.3, 0.3, 0.3], print.gridStrength);
      }
    }
    const mottle =
      1 +
      print.mottle * (valueNoise(x / 2.5, y / 2.5, seed) + valueNoise(x / 40, y / 40, seed + 1));
    return [colour[0] * mottle, colour[1] * mottle, colour[2] * mottle];
  }

  #onNumber(dx: number, dy: number, r: number): boolean {
    const angle = this.#scene.print.numberAngle;
    if (Number.isNaN(angle)) return false;
    const zones = this.#face.zones;
    const width = zones[0]!.outerRadiusMm - (zones[1]?.outerRadiusMm ?? 0);
    const zone = zones.find(
      (z) => r <= z.outerRadiusMm && r > z.outerRadiusMm - width && z.value < 10,
    );
    if (!zone) return false;
    const mid = zone.outerRadiusMm - width / 2;
    const text = String(zone.value);
    const size = width * 0.055;
    for (const side of [1, -1]) {
      const x = (dx - side * mid * Math.cos(angle)) / size;
      const y = (dy - side * mid * Math.sin(angle)) / size;
      if (Math.abs(x) > 3 || Math.abs(y) > 3.5) continue;
      for (const stroke of STROKES[text] ?? []) {
        if (segmentDistance(x + 1, y + 2, stroke) < 0.28) return true;
      }
    }
    return false;
  }

  #withHoles(base: Rgb, x: number, y: number): Rgb {
    let colour = base;
    const cell = this.#holes.get(`${Math.floor(x / CELL_MM)},${Math.floor(y / CELL_MM)}`);
    if (!cell) return colour;
    for (const hole of cell) {
      const dx = x - hole.mm[0];
      const dy = y - hole.mm[1];
      const d = Math.hypot(dx, dy);
      if (d > hole.radiusMm * 2.4) continue;
      const theta = Math.atan2(dy, dx);
      const [cu, su] = [Math.cos(theta), Math.sin(theta)];
      const ragged =
        1 +
        hole.raggedness *
          (0.6 * valueNoise(cu * 1.6 + 9, su * 1.6, hole.seed) +
            0.4 * valueNoise(cu * 5, su * 5, hole.seed + 3));
      const edge = hole.radiusMm * ragged;
      if (d < edge) {
        const texture = 0.5 + 0.5 * valueNoise(x * 2, y * 2, hole.seed + 7);
        const depth = 0.01 + hole.fill * texture * 0.6;
        colour = [depth, depth * 0.9, depth * 0.65];
      } else {
        const out = (d - edge) / hole.radiusMm;
        const fibre = 0.5 + 0.5 * valueNoise(cu * 7, su * 7 + d * 0.4, hole.seed + 5);
        const strength = hole.rim * fibre * Math.exp(-out * 5);
        colour = mix(colour, this.#scene.print.inks.white, Math.min(1, strength));
        const crease = Math.exp(-out * 3) * 0.18 * valueNoise(cu * 3, su * 3, hole.seed + 11);
        colour = [colour[0] * (1 + crease), colour[1] * (1 + crease), colour[2] * (1 + crease)];
      }
    }
    return colour;
  }
}
