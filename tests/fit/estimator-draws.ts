import { Matrix, inverse } from 'ml-matrix';
import { FACES, ringRadiiMm } from '../../src/face/faces.ts';
import {
  movedState,
  PARAMETER,
  parameterCount,
  projectorOf,
  stateOfFit,
  type CameraPrior,
  type CameraState,
} from '../../src/fit/camera/camera-state.ts';
import { fitCovarianceMm } from '../../src/fit/camera/fit-sd-mm.ts';
import { photoToSheet, sheetToPhoto } from '../../src/fit/camera/project.ts';
import type { FaceFit } from '../../src/fit/camera/face-fit.ts';
import { solveCamera, type RingPoint } from '../../src/fit/camera/solve-camera.ts';
import { random as seeded } from '../groups/random.ts';
import { cameraFit } from './camera-fit.ts';

export interface DrawOptions {
  readonly draws: number;
  readonly noisePx: number;
  /** Share of points that lie anywhere in the strip searched instead of on their ring. */
  readonly outliers: number;
  readonly seed: number;
}

export interface DrawResult {
  /** Rms error of the mapping over the face, mm. */
  readonly errorMm: number;
  /** Cramer-Rao bound of the same without outliers, mm. */
  readonly boundMm: number;
  /** Mean squared error normalised by the reported covariance, per degree of freedom. */
  readonly normalised: number;
  /** Draws whose error exceeds ten bounds and a tenth of a millimetre. */
  readonly breakdowns: number;
}

/** What the estimator may use beside the points; the true focal lengths are drawn from it. */
const LOG_FOCAL_SD = 0.2;
const PARAMETERS = [
  PARAMETER.turnX,
  PARAMETER.turnY,
  PARAMETER.shiftX,
  PARAMETER.shiftY,
  PARAMETER.shiftZ,
  PARAMETER.logFocal,
  PARAMETER.k1,
];

/**
 * Ring points seen by known cameras (tilt 0 to 60 degrees, k1 -0.2 to 0.1), given to the estimator
 * from a start as far off as the candidate stage may be, and its errors against the Cramer-Rao
 * bound and against the covariance that it reports.
 */
export function drawEstimates(options: DrawOptions): DrawResult {
  const { uniform: random, normal } = seeded(options.seed);
  const between = (low: number, high: number): number => low + (high - low) * random();
  let squares = 0;
  let bounds = 0;
  let normalisedSum = 0;
  let breakdowns = 0;
  const expectedFocal = 1800;
  const prior: CameraPrior = {
    focalPx: expectedFocal,
    logFocalSd: LOG_FOCAL_SD,
    centreSdPx: 0,
    k1Sd: 0.5,
    k2Sd: 0,
    bulgeSd: 0,
    turnZSdRad: 0,
    spotShiftSd: 0,
    ringOffsetSd: 0,
  };
  for (let draw = 0; draw < options.draws; draw++) {
    const truth = cameraFit({
      tiltDeg: between(0, 60),
      azimuthDeg: between(0, 360),
      focalPx: expectedFocal * Math.exp(LOG_FOCAL_SD * normal()),
      offsetPx: [between(-150, 150), between(-100, 100)],
      k1: between(-0.2, 0.1),
    });
    const state = stateOfFit(truth);
    const points = seenPoints(state, options, random, normal);
    const start = movedState(state, startError(state, normal));
    const solution = solveCamera(start, points, { prior, leastScale: 1e-7, iterations: 60 });
    const found = fitOf(solution.state, truth, solution.covariance);
    const bound = cramerRao(state, points, Math.max(options.noisePx, 1e-9));
    let error = 0;
    let limit = 0;
    const places = facePlaces();
    const errors = turnedBack(
      places,
      places.map((mm) => {
        const at = photoToSheet(found, sheetToPhoto(truth, mm));
        return [at[0] - mm[0], at[1] - mm[1]] as const;
      }),
    );
    places.forEach((mm, i) => {
      error += errors[i]![0] ** 2 + errors[i]![1] ** 2;
      const c = fitCovarianceMm({ ...truth, covariance: bound }, mm);
      limit += c[0] + c[3];
    });
    error /= places.length;
    limit /= places.length;
    if (Math.sqrt(error) > Math.max(0.1, 10 * Math.sqrt(limit))) breakdowns++;
    squares += error;
    bounds += limit;
    const one = Math.floor(random() * places.length);
    const mm = places[one]!;
    const [dx, dy] = errors[one]!;
    const [xx, xy, , yy] = fitCovarianceMm(found, mm);
    normalisedSum += (yy * dx * dx - 2 * xy * dx * dy + xx * dy * dy) / (xx * yy - xy * xy) / 2;
  }
  return {
    errorMm: Math.sqrt(squares / options.draws),
    boundMm: Math.sqrt(bounds / options.draws),
    normalised: normalisedSum / options.draws,
    breakdowns,
  };
}

/**
 * Errors less the turn about the centre that they have in common: rings look the same however the
 * face is turned, and tilting it to and fro turns it a little.
 */
function turnedBack(
  places: readonly (readonly [number, number])[],
  errors: readonly (readonly [number, number])[],
): [number, number][] {
  let along = 0;
  let radii = 0;
  places.forEach(([x, y], i) => {
    along += x * errors[i]![1] - y * errors[i]![0];
    radii += x * x + y * y;
  });
  const turn = along / radii;
  return places.map(([x, y], i) => [errors[i]![0] + turn * y, errors[i]![1] - turn * x]);
}

/** Places all over an 80 cm face. */
function facePlaces(): [number, number][] {
  const places: [number, number][] = [];
  for (const r of [30, 120, 220, 310, 390]) {
    for (let k = 0; k < 8; k++) {
      const angle = (k * Math.PI) / 4 + r;
      places.push([r * Math.cos(angle), r * Math.sin(angle)]);
    }
  }
  return places;
}

function seenPoints(
  state: CameraState,
  options: DrawOptions,
  random: () => number,
  normal: () => number,
): RingPoint[] {
  const projector = projectorOf(state);
  const points: RingPoint[] = [];
  ringRadiiMm(FACES[state.face]).forEach((radius, ring) => {
    for (let k = 0; k < 60; k++) {
      const angle = (2 * Math.PI * (k + 0.5)) / 60;
      const wrong = random() < options.outliers;
      // A wrong point lies anywhere within nearly half a zone of its ring.
      const r = radius + (wrong ? (random() - 0.5) * 0.9 * Math.min(40, radius) : 0);
      projector.at(r * Math.cos(angle), r * Math.sin(angle));
      const noise = wrong ? 0 : options.noisePx;
      points.push({
        spot: 0,
        ring,
        angle,
        px: [projector.px[0] + noise * normal(), projector.px[1] + noise * normal()],
        sdPx: 1,
      });
    }
  });
  return points;
}

/** How far off a start from candidates may be: degrees of tilt, a few pixels, some of the scale. */
function startError(state: CameraState, normal: () => number): number[] {
  const step = new Array<number>(parameterCount(state)).fill(0);
  step[PARAMETER.turnX] = 0.03 * normal();
  step[PARAMETER.turnY] = 0.03 * normal();
  step[PARAMETER.shiftX] = 2 * normal();
  step[PARAMETER.shiftY] = 2 * normal();
  step[PARAMETER.shiftZ] = 0.005 * state.translationMm[2] * normal();
  step[PARAMETER.k1] = -state.k1;
  return step;
}

/** Bound on the covariance of any unbiased estimate, by numeric derivatives at the truth. */
function cramerRao(state: CameraState, points: readonly RingPoint[], noisePx: number): number[][] {
  const radii = ringRadiiMm(FACES[state.face]);
  const rows = points.map((point) => {
    const place = (s: CameraState, turn: number): [number, number] => {
      const projector = projectorOf(s);
      const radius = radii[point.ring]!;
      projector.at(radius * Math.cos(point.angle + turn), radius * Math.sin(point.angle + turn));
      return [projector.px[0], projector.px[1]];
    };
    const before = place(state, -1e-4);
    const after = place(state, 1e-4);
    const length = Math.hypot(after[0] - before[0], after[1] - before[1]);
    const normalX = -(after[1] - before[1]) / length;
    const normalY = (after[0] - before[0]) / length;
    return PARAMETERS.map((index) => {
      const size = index === PARAMETER.shiftX || index === PARAMETER.shiftY ? 1e-2 : 1e-5;
      const step = new Array<number>(parameterCount(state)).fill(0);
      step[index] = size;
      const up = place(movedState(state, step), 0);
      step[index] = -size;
      const down = place(movedState(state, step), 0);
      return (normalX * (up[0] - down[0]) + normalY * (up[1] - down[1])) / (2 * size);
    });
  });
  const jacobian = new Matrix(rows);
  const information = jacobian
    .transpose()
    .mmul(jacobian)
    .div(noisePx * noisePx);
  const focal = PARAMETERS.indexOf(PARAMETER.logFocal);
  information.set(focal, focal, information.get(focal, focal) + 1 / LOG_FOCAL_SD ** 2);
  const unit = PARAMETERS.map((_, i) => 1 / Math.sqrt(information.get(i, i)));
  const scaled = Matrix.zeros(unit.length, unit.length);
  unit.forEach((a, i) => unit.forEach((b, j) => scaled.set(i, j, information.get(i, j) * a * b)));
  const small = inverse(scaled);
  const size = PARAMETER.bulge;
  const full = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  PARAMETERS.forEach((a, i) =>
    PARAMETERS.forEach((b, j) => (full[a]![b] = small.get(i, j) * unit[i]! * unit[j]!)),
  );
  return full;
}

function fitOf(state: CameraState, like: FaceFit, covariance: number[][]): FaceFit {
  return {
    ...like,
    pose: { rotation: state.rotation, translationMm: state.translationMm },
    focal: { px: state.focalPx, source: 'estimated' },
    lens: { k1: state.k1, k2: state.k2, centrePx: state.centrePx },
    covariance,
  };
}
