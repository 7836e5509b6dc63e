import { add, cross, dot, scale, unit, type Camera } from './camera.ts';
import type { Arrow, Rgb, Vec3 } from './scene.ts';

const SEGMENTS = 8;
const VANE = { fromNockMm: 28, lengthMm: 48, heightMm: 11 };

export interface ArrowHit {
  readonly distance: number;
  readonly colour: Rgb;
  readonly normal: Vec3;
  readonly shiny: number;
}

/** One arrow standing in the boss, as a bent cylinder with vanes and a nock. */
export class StandingArrow {
  readonly arrow: Arrow;
  readonly points: readonly Vec3[];
  readonly #vanes: readonly { origin: Vec3; along: Vec3; out: Vec3; normal: Vec3 }[];

  constructor(arrow: Arrow) {
    this.arrow = arrow;
    this.points = Array.from({ length: SEGMENTS + 1 }, (_, i) => this.at(i / SEGMENTS));
    const nock = this.points[SEGMENTS]!;
    const back = unit(add(this.points[SEGMENTS - 1]!, nock, -1));
    const side = unit(cross(back, [0, 1, 0]));
    const up = cross(side, back);
    this.#vanes =
      arrow.kind === 'bare'
        ? []
        : [0, 1, 2].map((k) => {
            const angle = arrow.roll + (k * 2 * Math.PI) / 3;
            const out = add(scale(side, Math.cos(angle)), up, Math.sin(angle));
            return {
              origin: add(nock, back, VANE.fromNockMm),
              along: back,
              out,
              normal: unit(cross(back, out)),
            };
          });
  }

  /** Point of the axis at a fraction of the length from the entry. */
  at(t: number): Vec3 {
    const { entryMm, axis, lengthMm, droopMm } = this.arrow;
    const s = t * lengthMm;
    return [entryMm[0] + axis[0] * s, entryMm[1] + axis[1] * s - droopMm * t * t, axis[2] * s];
  }

  /** First hit of a ray, or null. */
  hit(origin: Vec3, ray: Vec3): ArrowHit | null {
    let best: ArrowHit | null = null;
    for (let i = 0; i < SEGMENTS; i++) {
      const hit = this.#hitSegment(origin, ray, i);
      if (hit && (!best || hit.distance < best.distance)) best = hit;
    }
    for (const vane of this.#vanes) {
      const facing = dot(ray, vane.normal);
      if (Math.abs(facing) < 1e-6) continue;
      const distance = dot(add(vane.origin, origin, -1), vane.normal) / facing;
      if (distance <= 0 || (best && distance >= best.distance)) continue;
      const p = add(add(origin, ray, distance), vane.origin, -1);
      const a = dot(p, vane.along) / VANE.lengthMm;
      const o = dot(p, vane.out) - this.arrow.radiusMm;
      if (a < 0 || a > 1 || o < 0 || o > VANE.heightMm * Math.min(1, (1 - a) * 1.6)) continue;
      best = { distance, colour: this.arrow.vanes, normal: vane.normal, shiny: 0.05 };
    }
    return best;
  }

  #hitSegment(origin: Vec3, ray: Vec3, i: number): ArrowHit | null {
    const a = this.points[i]!;
    const b = this.points[i + 1]!;
    const axis = unit(add(b, a, -1));
    const length = Math.hypot(...add(b, a, -1));
    const w = add(origin, a, -1);
    const rd = dot(ray, axis);
    const wd = dot(w, axis);
    const across = add(ray, axis, -rd);
    const offset = add(w, axis, -wd);
    const qa = dot(across, across);
    const qb = 2 * dot(across, offset);
    const qc = dot(offset, offset) - this.arrow.radiusMm ** 2;
    const disc = qb * qb - 4 * qa * qc;
    if (disc < 0 || qa < 1e-12) return null;
    const distance = (-qb - Math.sqrt(disc)) / (2 * qa);
    const along = wd + rd * distance;
    if (distance <= 0 || along < 0 || along > length) return null;
    const normal = unit(add(offset, across, distance));
    const toNock = (SEGMENTS - 1 - i) * length + (length - along);
    return {
      distance,
      colour: toNock < 14 ? this.arrow.nock : this.arrow.shaft,
      normal,
      shiny: 0.35,
    };
  }

  /** Shadow polyline on the sheet's plane for a given sun direction. */
  shadow(sun: Vec3): [number, number][] {
    return this.points.map((p) => [
      p[0] - (sun[0] * p[2]) / sun[2],
      p[1] - (sun[1] * p[2]) / sun[2],
    ]);
  }

  /** Image of the axis, for culling and truth. */
  image(camera: Camera): [number, number][] {
    return this.points.map((p) => camera.project(p));
  }
}
