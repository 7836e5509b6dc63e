import { FACES, ringRadiiMm, zoneWidthMm, type FaceId } from '../../face/faces.ts';
import { bulgeRadiusMm, bulgeTermDegree, bulgeTermsAt } from './bulge-height.ts';
import type { FaceFit } from './face-fit.ts';
import { halfDiagonalPx } from './project.ts';

/**
 * What a fit estimates, and how a small change of each parameter moves a point in the photo.
 *
 * Order of the parameters, also in `FaceFit.covariance`: turns of the face about its own x, y and z
 * axes (rad), translation (mm), logarithm of the focal length, principal point (px), k1, k2, the
 * bulge's coefficients (mm), and for faces of several spots each centre's shift (x, y, mm).
 */
export interface CameraState {
  readonly face: FaceId;
  readonly photoSize: readonly [number, number];
  readonly rotation: readonly number[];
  readonly translationMm: readonly [number, number, number];
  readonly focalPx: number;
  readonly centrePx: readonly [number, number];
  readonly k1: number;
  readonly k2: number;
  readonly bulge: readonly number[];
  readonly spotCentresMm: readonly (readonly [number, number])[];
  /** Departure of each printed ring from its radius, mm, in the order of `ringRadiiMm`. */
  readonly ringOffsetsMm: readonly number[];
}

export const PARAMETER = {
  turnX: 0,
  turnY: 1,
  turnZ: 2,
  shiftX: 3,
  shiftY: 4,
  shiftZ: 5,
  logFocal: 6,
  centreX: 7,
  centreY: 8,
  k1: 9,
  k2: 10,
  bulge: 11,
} as const;

/** Number of parameters that move the mapping (ring offsets do not). */
export function mappingParameterCount(state: CameraState): number {
  return PARAMETER.bulge + state.bulge.length + spotParameterCount(state);
}

function spotParameterCount(state: CameraState): number {
  return state.spotCentresMm.length > 1 ? 2 * state.spotCentresMm.length : 0;
}

/** All parameters: those of the mapping, then one offset per ring. */
export function parameterCount(state: CameraState): number {
  return mappingParameterCount(state) + state.ringOffsetsMm.length;
}

export function stateOfFit(fit: FaceFit): CameraState {
  return {
    face: fit.face,
    photoSize: fit.photoSize,
    rotation: fit.pose.rotation,
    translationMm: fit.pose.translationMm,
    focalPx: fit.focal.px,
    centrePx: [fit.lens.centrePx[0], fit.lens.centrePx[1]],
    k1: fit.lens.k1,
    k2: fit.lens.k2,
    bulge: fit.bulge,
    spotCentresMm: fit.spotCentresMm.map(([x, y]) => [x, y] as const),
    ringOffsetsMm: ringRadiiMm(FACES[fit.face]).map(() => 0),
  };
}

/** One standard deviation of what is believed of each parameter before the photo is looked at. */
export interface CameraPrior {
  readonly focalPx: number;
  readonly logFocalSd: number;
  readonly centreSdPx: number;
  readonly k1Sd: number;
  readonly k2Sd: number;
  /** Of the bulge's coefficients of degree 2, as a part of the sheet's radius. */
  readonly bulgeSd: number;
  readonly turnZSdRad: number;
  /** Of a spot's place on the sheet, in widths of a zone. */
  readonly spotShiftSd: number;
  /** Of a printed ring's radius, in widths of a zone. */
  readonly ringOffsetSd: number;
}

/**
 * Belief for first looks: flat paper, exact print and hardly any distortion, so that rings seen on
 * one side, or only the inner ones, do not bend the lens to fit their errors.
 */
export function stiffPrior(prior: CameraPrior): CameraPrior {
  return { ...prior, k1Sd: 0.01, k2Sd: 0, bulgeSd: 0, ringOffsetSd: 0 };
}

/** Largest difference of a parameter from what was believed of it, in standard deviations of belief. */
export function strainOf(state: CameraState, prior: CameraPrior): number {
  const { difference, sd } = priorTerms(state, prior);
  return sd.reduce(
    (most, one, i) => (one > 0 ? Math.max(most, Math.abs(difference[i]! / one)) : most),
    0,
  );
}

/** The higher the degree of a height polynomial, the smaller paper's bending makes it. */
const BULGE_DECAY = 0.6;

/** Differences of the parameters from what was believed, and the standard deviations of belief. */
export function priorTerms(
  state: CameraState,
  prior: CameraPrior,
): { difference: number[]; sd: number[] } {
  const face = FACES[state.face];
  const printed = face.spotCentresMm;
  const zoneMm = zoneWidthMm(face);
  const radius = bulgeRadiusMm(state.face);
  const free = Infinity;
  const difference = [
    0,
    0,
    0,
    0,
    0,
    0,
    Math.log(state.focalPx / prior.focalPx),
    state.centrePx[0] - state.photoSize[0] / 2,
    state.centrePx[1] - state.photoSize[1] / 2,
    state.k1,
    state.k2,
    ...state.bulge,
  ];
  const sd = [
    free,
    free,
    prior.turnZSdRad,
    free,
    free,
    free,
    prior.logFocalSd,
    prior.centreSdPx,
    prior.centreSdPx,
    prior.k1Sd,
    prior.k2Sd,
    ...state.bulge.map((_, i) => prior.bulgeSd * radius * BULGE_DECAY ** (bulgeTermDegree(i) - 2)),
  ];
  if (spotParameterCount(state) > 0) {
    state.spotCentresMm.forEach(([x, y], i) => {
      difference.push(x - printed[i]![0], y - printed[i]![1]);
      sd.push(prior.spotShiftSd * zoneMm, prior.spotShiftSd * zoneMm);
    });
  }
  for (const offset of state.ringOffsetsMm) {
    difference.push(offset);
    sd.push(prior.ringOffsetSd * zoneMm);
  }
  return { difference, sd };
}

/** The state after a small change of every parameter. */
export function movedState(state: CameraState, step: ArrayLike<number>): CameraState {
  const b = PARAMETER.bulge;
  const spots = b + state.bulge.length;
  const several = spotParameterCount(state) > 0;
  const offsets = mappingParameterCount(state);
  return {
    ...state,
    rotation: turned(state.rotation, step[0]!, step[1]!, step[2]!),
    translationMm: [
      state.translationMm[0] + step[3]!,
      state.translationMm[1] + step[4]!,
      state.translationMm[2] * Math.exp(step[6]!) + step[5]!,
    ],
    focalPx: state.focalPx * Math.exp(step[6]!),
    centrePx: [state.centrePx[0] + step[7]!, state.centrePx[1] + step[8]!],
    k1: state.k1 + step[9]!,
    k2: state.k2 + step[10]!,
    bulge: state.bulge.map((value, i) => value + step[b + i]!),
    spotCentresMm: several
      ? state.spotCentresMm.map(
          ([x, y], i) => [x + step[spots + 2 * i]!, y + step[spots + 2 * i + 1]!] as const,
        )
      : state.spotCentresMm,
    ringOffsetsMm: state.ringOffsetsMm.map((value, i) => value + step[offsets + i]!),
  };
}

/** The rotation after turning the face about its own axes by the vector (a, b, c), rad. */
export function turned(rotation: readonly number[], a: number, b: number, c: number): number[] {
  const angle = Math.hypot(a, b, c);
  if (angle === 0) return [...rotation];
  const [x, y, z] = [a / angle, b / angle, c / angle];
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const d = 1 - cos;
  const turn = [
    x * x * d + cos,
    x * y * d - z * sin,
    x * z * d + y * sin,
    x * y * d + z * sin,
    y * y * d + cos,
    y * z * d - x * sin,
    x * z * d - y * sin,
    y * z * d + x * sin,
    z * z * d + cos,
  ];
  return [0, 1, 2].flatMap((i) =>
    [0, 1, 2].map(
      (j) =>
        rotation[3 * i]! * turn[j]! +
        rotation[3 * i + 1]! * turn[3 + j]! +
        rotation[3 * i + 2]! * turn[6 + j]!,
    ),
  );
}

/** Projects points of the sheet, with derivatives; made once per state. */
export interface Projector {
  /** Image of the paper at (x, y) mm, into `px`, `alongX` and `alongY`. */
  at(x: number, y: number): void;
  readonly px: [number, number];
  /** d(px) / d(x mm), d(px) / d(y mm) on the paper taken as flat there. */
  readonly alongX: [number, number];
  readonly alongY: [number, number];
  /** d(px) / d(parameter) for the parameters before the spots, two rows; filled by `slopes`. */
  slopes(x: number, y: number, outX: Float64Array, outY: Float64Array): void;
}

/**
 * Numbers that a projector keeps of a point: the height of the paper, the depth before the camera, the
 * undistorted position, the square of its distance and how it moves the distorted one.
 */
const LAST = { h: 0, depth: 1, u: 2, v: 3, rho2: 4, duu: 5, duv: 6, dvv: 7 } as const;
const LAST_COUNT = Object.keys(LAST).length;

export function projectorOf(state: CameraState): Projector {
  const r = state.rotation;
  const [tx, ty, tz] = state.translationMm;
  const f = state.focalPx;
  const [cx, cy] = state.centrePx;
  const { k1, k2 } = state;
  const unit = halfDiagonalPx(state.photoSize);
  const unit2 = unit * unit;
  const radius = bulgeRadiusMm(state.face);
  const bulge = state.bulge;
  const terms = new Float64Array(bulge.length);
  const [r0, r1, r2, r3, r4, r5, r6, r7, r8] = r as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const px: [number, number] = [0, 0];
  const alongX: [number, number] = [0, 0];
  const alongY: [number, number] = [0, 0];
  // Of the point last projected. Numbers that closures change would each be made anew on the heap.
  const last = new Float64Array(LAST_COUNT);

  const at = (x: number, y: number): void => {
    let h = 0;
    if (bulge.length > 0) {
      bulgeTermsAt(x / radius, y / radius, terms);
      for (let i = 0; i < bulge.length; i++) h += bulge[i]! * terms[i]!;
    }
    const X = r0 * x + r1 * y + r2 * h + tx;
    const Y = r3 * x + r4 * y + r5 * h + ty;
    const depth = r6 * x + r7 * y + r8 * h + tz;
    const u = (f * X) / depth;
    const v = (f * Y) / depth;
    const rho2 = (u * u + v * v) / unit2;
    const stretch = 1 + rho2 * (k1 + rho2 * k2);
    const bend = (2 * (k1 + 2 * rho2 * k2)) / unit2;
    const duu = stretch + bend * u * u;
    const duv = bend * u * v;
    const dvv = stretch + bend * v * v;
    px[0] = cx + u * stretch;
    px[1] = cy + v * stretch;
    const g = f / depth;
    const ux = g * r0 - (u * r6) / depth;
    const vx = g * r3 - (v * r6) / depth;
    const uy = g * r1 - (u * r7) / depth;
    const vy = g * r4 - (v * r7) / depth;
    alongX[0] = duu * ux + duv * vx;
    alongX[1] = duv * ux + dvv * vx;
    alongY[0] = duu * uy + duv * vy;
    alongY[1] = duv * uy + dvv * vy;
    last[LAST.h] = h;
    last[LAST.depth] = depth;
    last[LAST.u] = u;
    last[LAST.v] = v;
    last[LAST.rho2] = rho2;
    last[LAST.duu] = duu;
    last[LAST.duv] = duv;
    last[LAST.dvv] = dvv;
  };

  let slopesX: Float64Array = new Float64Array(0);
  let slopesY: Float64Array = new Float64Array(0);
  /** Writes the slopes of parameter `i` by the move of the point in the camera's frame. */
  const along = (i: number, dX: number, dY: number, dZ: number): void => {
    const du = (f * dX - last[LAST.u]! * dZ) / last[LAST.depth]!;
    const dv = (f * dY - last[LAST.v]! * dZ) / last[LAST.depth]!;
    slopesX[i] = last[LAST.duu]! * du + last[LAST.duv]! * dv;
    slopesY[i] = last[LAST.duv]! * du + last[LAST.dvv]! * dv;
  };

  const slopes = (x: number, y: number, outX: Float64Array, outY: Float64Array): void => {
    at(x, y);
    const h = last[LAST.h]!;
    const u = last[LAST.u]!;
    const v = last[LAST.v]!;
    const rho2 = last[LAST.rho2]!;
    slopesX = outX;
    slopesY = outY;
    // Turning the face moves (x, y, h) by the cross product with the axis.
    along(0, r2 * y - r1 * h, r5 * y - r4 * h, r8 * y - r7 * h);
    along(1, r0 * h - r2 * x, r3 * h - r5 * x, r6 * h - r8 * x);
    along(2, r1 * x - r0 * y, r4 * x - r3 * y, r7 * x - r6 * y);
    along(3, 1, 0, 0);
    along(4, 0, 1, 0);
    along(5, 0, 0, 1);
    outX[6] = last[LAST.duu]! * u + last[LAST.duv]! * v + tz * outX[5]!;
    outY[6] = last[LAST.duv]! * u + last[LAST.dvv]! * v + tz * outY[5]!;
    outX[7] = 1;
    outY[7] = 0;
    outX[8] = 0;
    outY[8] = 1;
    outX[9] = u * rho2;
    outY[9] = v * rho2;
    outX[10] = u * rho2 * rho2;
    outY[10] = v * rho2 * rho2;
    if (bulge.length > 0) {
      along(PARAMETER.bulge, r2, r5, r8);
      const nx = outX[PARAMETER.bulge]!;
      const ny = outY[PARAMETER.bulge]!;
      for (let i = 0; i < bulge.length; i++) {
        outX[PARAMETER.bulge + i] = nx * terms[i]!;
        outY[PARAMETER.bulge + i] = ny * terms[i]!;
      }
    }
  };
  return { at, px, alongX, alongY, slopes };
}
