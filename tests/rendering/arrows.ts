import { add, cross, dot, scale, unit, type Camera } from './camera.ts';
import type { Arrow, Rgb, Vec3 } from './scene.ts';

const SEGMENTS = 8;
const NOCK_MM = 14;
/** Width of the slot for the string. */
const SLOT_MM = 3.2;

export interface ArrowHit {
  readonly distance: number;
  readonly colour: Rgb;
  readonly normal: Vec3;
  readonly shiny: number;
  /** How much of its surroundings it mirrors, 0 to 1. */
  readonly gloss: number;
}

/** One arrow standing in the boss, as a bent cylinder with vanes and a nock. */
export class StandingArrow {
  readonly arrow: Arrow;
  readonly points: readonly Vec3[];
  readonly #entry: Vec3;
  readonly #segments: readonly { from: Vec3; axis: Vec3; lengthMm: number }[];
  /** The straight line from entry to nock, and how far anything of the arrow is from it. */
  readonly #chord: { axis: Vec3; lengthMm: number; reachMm: number };
  readonly #vanes: readonly { origin: Vec3; along: Vec3; out: Vec3; normal: Vec3 }[];

  /** @param entry where it enters the paper, in space, mm */
  constructor(arrow: Arrow, entry: Vec3) {
    this.arrow = arrow;
    this.#entry = entry;
    this.points = Array.from({ length: SEGMENTS + 1 }, (_, i) => this.at(i / SEGMENTS));
    this.#segments = this.points.slice(1).map((to, i) => {
      const along = add(to, this.points[i]!, -1);
      return { from: this.points[i]!, axis: unit(along), lengthMm: Math.hypot(...along) };
    });
    const nock = this.points[SEGMENTS]!;
    const whole = add(nock, this.points[0]!, -1);
    const beside = arrow.radiusMm + (arrow.kind === 'bare' ? 0 : arrow.vane.heightMm);
    this.#chord = {
      axis: unit(whole),
      lengthMm: Math.hypot(...whole),
      reachMm: beside + arrow.droopMm / 4 + 1,
    };
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
              origin: add(nock, back, arrow.vane.fromNockMm),
              along: back,
              out,
              normal: unit(cross(back, out)),
            };
          });
  }

  /** Point of the axis at a fraction of the length from the entry. */
  at(t: number): Vec3 {
    const { axis, lengthMm, droopMm } = this.arrow;
    const [x, y, z] = this.#entry;
    const s = t * lengthMm;
    return [x + axis[0] * s, y + axis[1] * s - droopMm * t * t, z + axis[2] * s];
  }

  /** First hit of a ray, or null. */
  hit(origin: Vec3, ray: Vec3): ArrowHit | null {
    if (!this.#mayHit(origin, ray)) return null;
    let best: ArrowHit | null = null;
    for (let i = 0; i < SEGMENTS; i++) {
      const hit = this.#hitSegment(origin, ray, i);
      if (hit && (!best || hit.distance < best.distance)) best = hit;
    }
    const end = this.#hitNock(origin, ray);
    if (end && (!best || end.distance < best.distance)) best = end;
    const { lengthMm, heightMm, barred } = this.arrow.vane;
    for (const vane of this.#vanes) {
      const facing = dot(ray, vane.normal);
      if (Math.abs(facing) < 1e-6) continue;
      const distance = dot(add(vane.origin, origin, -1), vane.normal) / facing;
      if (distance <= 0 || (best && distance >= best.distance)) continue;
      const p = add(add(origin, ray, distance), vane.origin, -1);
      const a = dot(p, vane.along) / lengthMm;
      const o = dot(p, vane.out) - this.arrow.radiusMm;
      if (a < 0 || a > 1 || o < 0 || o > heightMm * Math.min(1, (1 - a) * 1.6)) continue;
      const bar = barred > 0 && Math.sin(a * 40 + o * 0.6) > 0.5 ? 1 - 0.7 * barred : 1;
      const colour = scale(this.arrow.vanes, bar);
      best = { distance, colour, normal: vane.normal, shiny: 0.05, gloss: 0 };
    }
    return best;
  }

  /** Whether a ray passes anywhere near the arrow. */
  #mayHit(origin: Vec3, ray: Vec3): boolean {
    const { axis, reachMm } = this.#chord;
    const between = cross(ray, axis);
    const apart = Math.hypot(...between);
    if (apart < 1e-3) return true;
    return Math.abs(dot(add(this.points[0]!, origin, -1), between)) <= reachMm * apart;
  }

  #hitSegment(origin: Vec3, ray: Vec3, i: number): ArrowHit | null {
    const { from, axis, lengthMm: length } = this.#segments[i]!;
    const [wx, wy, wz] = [origin[0] - from[0], origin[1] - from[1], origin[2] - from[2]];
    const rd = dot(ray, axis);
    const wd = wx * axis[0] + wy * axis[1] + wz * axis[2];
    const qa = 1 - rd * rd;
    const qb = 2 * (wx * ray[0] + wy * ray[1] + wz * ray[2] - wd * rd);
    const qc = wx * wx + wy * wy + wz * wz - wd * wd - this.arrow.radiusMm ** 2;
    const disc = qb * qb - 4 * qa * qc;
    if (disc < 0 || qa < 1e-12) return null;
    const distance = (-qb - Math.sqrt(disc)) / (2 * qa);
    const along = wd + rd * distance;
    if (distance <= 0 || along < 0 || along > length) return null;
    const axisPoint = add(from, axis, along);
    const normal = unit(add(add(origin, ray, distance), axisPoint, -1));
    const toNock = (SEGMENTS - 1 - i) * length + (length - along);
    return {
      distance,
      colour: this.#colourAt(toNock),
      normal,
      shiny: 0.35,
      gloss: this.arrow.gloss,
    };
  }

  /** The flat end of the nock with the slot for the string. */
  #hitNock(origin: Vec3, ray: Vec3): ArrowHit | null {
    const nock = this.points[SEGMENTS]!;
    const back = unit(add(nock, this.points[SEGMENTS - 1]!, -1));
    const facing = dot(ray, back);
    if (facing > -1e-6) return null;
    const distance = dot(add(nock, origin, -1), back) / facing;
    if (distance <= 0) return null;
    const p = add(add(origin, ray, distance), nock, -1);
    if (Math.hypot(...p) > this.arrow.radiusMm) return null;
    const across = cross(back, [Math.cos(this.arrow.roll), Math.sin(this.arrow.roll), 0]);
    const slot = Math.abs(dot(p, unit(across))) < Math.min(SLOT_MM / 2, this.arrow.radiusMm * 0.5);
    const colour = slot ? scale(this.arrow.nock, 0.15) : this.arrow.nock;
    return { distance, colour, normal: back, shiny: 0.2, gloss: 0 };
  }

  #colourAt(toNockMm: number): Rgb {
    const { nock, wrap, front, shaft, lengthMm } = this.arrow;
    if (toNockMm < NOCK_MM) return nock;
    if (wrap && toNockMm < NOCK_MM + wrap.lengthMm) return wrap.colour;
    if (front && lengthMm - toNockMm < front.lengthMm) return front.colour;
    return shaft;
  }

  /** Shadow polyline, for a given sun direction, on a sheet that is level where the arrow enters. */
  shadow(sun: Vec3): [number, number][] {
    return this.points.map(([x, y, z]) => {
      const above = z - this.#entry[2];
      return [x - (sun[0] * above) / sun[2], y - (sun[1] * above) / sun[2]];
    });
  }

  /** Image of the axis, for culling and truth. */
  image(camera: Camera): [number, number][] {
    return this.points.map((p) => camera.project(p));
  }
}
