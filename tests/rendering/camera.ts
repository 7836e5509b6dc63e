import type { Scene, Vec3 } from './scene.ts';

export const add = (a: Vec3, b: Vec3, s = 1): Vec3 => [
  a[0] + s * b[0],
  a[1] + s * b[1],
  a[2] + s * b[2],
];
export const scale = (a: Vec3, s: number): Vec3 => [a[0] * s, a[1] * s, a[2] * s];
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const unit = (a: Vec3): Vec3 => {
  const n = Math.hypot(...a);
  return [a[0] / n, a[1] / n, a[2] / n];
};

/** A pinhole camera with one radial term, looking at the sheet (z towards the archer). */
export class Camera {
  readonly place: Vec3;
  readonly #right: Vec3;
  readonly #down: Vec3;
  readonly #forward: Vec3;
  readonly #scene: Scene['camera'];

  constructor(scene: Scene['camera']) {
    this.#scene = scene;
    const aim: Vec3 = [...scene.aimMm, 0];
    const sideways = Math.sin(scene.tilt);
    this.place = add(
      aim,
      [
        sideways * Math.cos(scene.azimuth),
        sideways * Math.sin(scene.azimuth),
        Math.cos(scene.tilt),
      ],
      scene.distanceMm,
    );
    this.#forward = unit(add(aim, this.place, -1));
    const level = unit(cross(this.#forward, [0, 1, 0]));
    const plumb = cross(this.#forward, level);
    const [c, s] = [Math.cos(scene.roll), Math.sin(scene.roll)];
    this.#right = add(scale(level, c), plumb, s);
    this.#down = cross(this.#forward, this.#right);
  }

  /** Photo pixels of a point in sheet millimetres. */
  project(point: Vec3): [number, number] {
    const v = add(point, this.place, -1);
    const z = dot(v, this.#forward);
    const x = dot(v, this.#right) / z;
    const y = dot(v, this.#down) / z;
    const k = 1 + this.#scene.k1 * (x * x + y * y);
    return [
      this.#scene.centrePx[0] + this.#scene.focalPx * x * k,
      this.#scene.centrePx[1] + this.#scene.focalPx * y * k,
    ];
  }

  /** Distance of a point from the camera along its axis, mm. */
  depthMm(point: Vec3): number {
    return dot(add(point, this.place, -1), this.#forward);
  }

  /** Radius in pixels of the disc that a point at this depth is spread over. */
  spreadPx(depthMm: number): number {
    const { apertureMm, focalPx, distanceMm } = this.#scene;
    return (apertureMm / 2) * focalPx * Math.abs(1 / depthMm - 1 / distanceMm);
  }

  /**
   * The ray through a place of the lens (in a unit disc) that meets `ray`, one from its middle,
   * where the camera is focused.
   */
  throughLens(ray: Vec3, u: number, v: number): { origin: Vec3; ray: Vec3 } {
    const half = this.#scene.apertureMm / 2;
    const aside = add(scale(this.#right, u * half), this.#down, v * half);
    const toFocus = scale(ray, this.#scene.distanceMm / dot(ray, this.#forward));
    return { origin: add(this.place, aside), ray: unit(add(toFocus, aside, -1)) };
  }

  /** Unit direction of the ray through a photo pixel. */
  ray(px: number, py: number): Vec3 {
    const dx = (px - this.#scene.centrePx[0]) / this.#scene.focalPx;
    const dy = (py - this.#scene.centrePx[1]) / this.#scene.focalPx;
    let k = 1;
    for (let i = 0; i < 4; i++) k = 1 + (this.#scene.k1 * (dx * dx + dy * dy)) / (k * k);
    const [right, down, forward] = [this.#right, this.#down, this.#forward];
    const x = forward[0] + (dx / k) * right[0] + (dy / k) * down[0];
    const y = forward[1] + (dx / k) * right[1] + (dy / k) * down[1];
    const z = forward[2] + (dx / k) * right[2] + (dy / k) * down[2];
    const length = Math.sqrt(x * x + y * y + z * z);
    return [x / length, y / length, z / length];
  }
}
