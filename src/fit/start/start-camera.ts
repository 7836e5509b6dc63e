import { FACES, ringRadiiMm, type Face, type FaceId } from '../../face/faces.ts';
import { inkBands, middleSpot } from '../../face/looks.ts';
import { stiffPrior, type CameraPrior, type CameraState } from '../camera/camera-state.ts';
import { ellipseOf, pencilOf } from '../camera/conic.ts';
import type { Border, SpotCandidate } from '../find/find-candidates.ts';
import {
  NORMAL_MAD,
  ROUGH_COST,
  solveCamera,
  type CameraSolution,
  type RingPoint,
} from '../camera/solve-camera.ts';

type Vector = readonly [number, number, number];

/** Index into `ringRadiiMm` of the border at which a band of its look ends, -1 when the face has none. */
export function ringOfBorder(face: Face, { band }: Border): number {
  return inkBands(face)[band]?.ring ?? -1;
}

/** A first camera of a spot. */
export interface CameraStart {
  readonly solution: CameraSolution;
  /**
   * Median distance of each border from its ring, in standard deviations of how exactly borders are
   * found, by the band that ends there; bands that the face lacks are not among them. The scale of the
   * solution leaves out what does not fit it, which may be the whole of a border.
   */
  readonly offByBand: ReadonlyMap<number, number>;
}

/** How far off the border farthest off is, of those of the first so many bands. */
export function farthestOff({ offByBand }: CameraStart, bands: number): number {
  return Math.max(...[...offByBand].map(([band, off]) => (band < bands ? off : 0)));
}

/**
 * Distances of borders from their rings, in standard deviations of how exactly borders are found, from
 * which on no other start, nor other face, need be tried: a wrong tilt leaves them twice as far off and more.
 */
export const GOOD_SCALE = 1.2;

/** Starts this much worse than the best, as a factor of their scales, may still be the right one. */
export const MAY_BE_RIGHT = 2;
/** Normals nearer to one another are one start, as the cosine of their angle. */
const SAME_NORMAL = Math.cos((12 * Math.PI) / 180);

/** The borders of a spot as ring points in the photo. */
export function borderPoints(
  face: Face,
  spot: number,
  candidate: SpotCandidate,
  sdPx: number,
): RingPoint[] {
  return candidate.borders.flatMap((border) => {
    const ring = ringOfBorder(face, border);
    if (ring < 0) return [];
    return border.points.map((px) => ({
      spot,
      ring,
      px: [px[0], px[1]] as const,
      angle: Math.atan2(candidate.centrePx[1] - px[1], px[0] - candidate.centrePx[0]),
      sdPx,
    }));
  });
}

/**
 * First cameras from the ellipses of one spot, the likeliest first. Two concentric circles give the
 * plane's vanishing line and so its normal; where noise spoils that, so that not all borders fit, the two
 * tilts that an ellipse allows are tried too, and those that fit about as well as the best are kept. The
 * spot is taken for the one nearest the sheet's middle, and that for the sheet's origin.
 */
export function startCameras(
  candidate: SpotCandidate,
  faceId: FaceId,
  photoSize: readonly [number, number],
  prior: CameraPrior,
  sdPx: number,
): CameraStart[] {
  const face = FACES[faceId];
  const spot = middleSpot(face);
  const [ownX, ownY] = face.spotCentresMm[spot]!;
  const widest = [...candidate.borders]
    .filter((border) => ringOfBorder(face, border) >= 0)
    .sort((a, b) => sizeOf(b) * b.support - sizeOf(a) * a.support);
  const main = widest[0];
  if (!main) return [];
  const shape = ellipseOf(main.conic)!;
  const [a, b] = shape.semiAxes;
  const tilt = Math.acos(Math.min(1, b / a));
  const across = shape.angle + Math.PI / 2;
  const normals: Vector[] = [1, -1].map((sign) => [
    sign * Math.sin(tilt) * Math.cos(across),
    sign * Math.sin(tilt) * Math.sin(across),
    -Math.cos(tilt),
  ]);
  let centre: readonly [number, number] = shape.centre;
  const second = widest.find((border) => border !== main && border.support > 0.5);
  if (second) {
    const [inner, outer] = sizeOf(second) < sizeOf(main) ? [second, main] : [main, second];
    const pencil = pencilOf(inner.conic, outer.conic);
    if (pencil) {
      const [la, lb, lc] = pencil.vanishingLine;
      const [cx, cy] = [photoSize[0] / 2, photoSize[1] / 2];
      const normal = unit([la * prior.focalPx, lb * prior.focalPx, la * cx + lb * cy + lc]);
      normals.unshift(normal[2] > 0 ? scaled(normal, -1) : normal);
      if (Math.hypot(pencil.centre[0] - centre[0], pencil.centre[1] - centre[1]) < b) {
        centre = pencil.centre;
      }
    }
  }
  const points = borderPoints(face, spot, candidate, sdPx);
  const radius = ringRadiiMm(face)[ringOfBorder(face, main)]!;
  const found: CameraStart[] = [];
  for (const normal of normals) {
    if (Math.abs(normal[2]) < 0.15) continue;
    const z = (prior.focalPx * radius * Math.sqrt(Math.abs(normal[2]))) / Math.sqrt(a * b);
    const state: CameraState = {
      face: faceId,
      photoSize,
      rotation: uprightRotation(normal),
      translationMm: [
        ((centre[0] - photoSize[0] / 2) * z) / prior.focalPx,
        ((centre[1] - photoSize[1] / 2) * z) / prior.focalPx,
        z,
      ],
      focalPx: prior.focalPx,
      centrePx: [photoSize[0] / 2, photoSize[1] / 2],
      k1: 0,
      k2: 0,
      bulge: [],
      spotCentresMm: face.spotCentresMm.map(([x, y]) => [x - ownX, y - ownY] as const),
      ringOffsetsMm: ringRadiiMm(face).map(() => 0),
    };
    const solution = solveCamera(state, points, {
      prior: { ...stiffPrior(prior), spotShiftSd: 0, turnZSdRad: 0 },
      iterations: 25,
      settledCost: ROUGH_COST,
    });
    const one = { solution, offByBand: offByBand(solution, points, face) };
    found.push(one);
    if (solution.scale < GOOD_SCALE) break;
  }
  // Compare at one scale: a bad start would otherwise excuse itself by a large one.
  found.sort((p, q) => p.solution.scale - q.solution.scale);
  return found.filter(
    (one, i) =>
      one.solution.scale <= MAY_BE_RIGHT * found[0]!.solution.scale &&
      found.slice(0, i).every((other) => !looksAlike(one.solution, other.solution)),
  );
}

function offByBand(
  { residualPx }: CameraSolution,
  points: readonly RingPoint[],
  face: Face,
): Map<number, number> {
  const off = new Map<number, number>();
  inkBands(face).forEach(({ ring }, band) => {
    const distances = points.flatMap((point, i) =>
      point.ring === ring ? [Math.abs(residualPx[i]!) / point.sdPx] : [],
    );
    if (distances.length === 0) return;
    off.set(band, distances.sort((a, b) => a - b)[distances.length >> 1]! / NORMAL_MAD);
  });
  return off;
}

function looksAlike({ state: { rotation: a } }: CameraSolution, other: CameraSolution): boolean {
  const b = other.state.rotation;
  return a[2]! * b[2]! + a[5]! * b[5]! + a[8]! * b[8]! > SAME_NORMAL;
}

function sizeOf(border: Border): number {
  const { semiAxes } = ellipseOf(border.conic)!;
  return Math.sqrt(semiAxes[0] * semiAxes[1]);
}

function scaled(v: Vector, factor: number): Vector {
  return [v[0] * factor, v[1] * factor, v[2] * factor];
}

function unit(v: Vector): Vector {
  return scaled(v, 1 / Math.hypot(...v));
}

function cross(a: Vector, b: Vector): Vector {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

/** Rotation of a face with this normal (towards the camera) whose up is the photo's up. */
export function uprightRotation(normal: Vector): number[] {
  const up: Vector = [0, -1, 0];
  const along = up[0] * normal[0] + up[1] * normal[1] + up[2] * normal[2];
  const y = unit([up[0] - along * normal[0], up[1] - along * normal[1], up[2] - along * normal[2]]);
  const x = cross(y, normal);
  return [x[0], y[0], normal[0], x[1], y[1], normal[1], x[2], y[2], normal[2]];
}

/** The state with the point that was the sheet's origin at `at`. */
export function movedOrigin(state: CameraState, at: readonly [number, number]): CameraState {
  const r = state.rotation;
  const [x, y, z] = state.translationMm;
  return {
    ...state,
    translationMm: [
      x - r[0]! * at[0] - r[1]! * at[1],
      y - r[3]! * at[0] - r[4]! * at[1],
      z - r[6]! * at[0] - r[7]! * at[1],
    ],
  };
}
