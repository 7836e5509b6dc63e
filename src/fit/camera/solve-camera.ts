import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { FACES, ringRadiiMm } from '../../face/faces.ts';
import {
  mappingParameterCount,
  movedState,
  PARAMETER,
  parameterCount,
  priorTerms,
  projectorOf,
  type CameraPrior,
  type CameraState,
} from './camera-state.ts';

/** A place in the photo where a printed ring was seen. */
export interface RingPoint {
  readonly spot: number;
  /** Index into `ringRadiiMm` of the face. */
  readonly ring: number;
  readonly px: readonly [number, number];
  /** Angle on the face, counter-clockwise from its right, rad; a start, it is refined. */
  readonly angle: number;
  /** One standard deviation across the ring, px, up to a common factor that the solver finds. */
  readonly sdPx: number;
}

export interface SolveOptions {
  readonly prior: CameraPrior;
  /** Smallest believable common factor of the points' standard deviations. @default 0.2 */
  readonly leastScale?: number;
  /** Largest factor at the start, when many points may be wrong. @default Infinity */
  readonly startScale?: number;
  /** @default 30 */
  readonly iterations?: number;
  /**
   * Steps that lower the cost (half a sum of squares in standard deviations) by less end the
   * solution. The default moves no estimate by a tenth of its own standard deviation.
   * @default 0.003
   */
  readonly settledCost?: number;
}

export interface CameraSolution {
  readonly state: CameraState;
  /** Of the mapping's parameters, in their order. */
  readonly covariance: number[][];
  /** Common factor of the points' standard deviations, from their robust spread. */
  readonly scale: number;
  /** Per point: signed distance outside (positive) its ring, px. */
  readonly residualPx: Float64Array;
  /** Per point: robust weight from 0 (not of this ring) to 1. */
  readonly weight: Float64Array;
}

/** `settledCost` of solutions that only say where to look next. */
export const ROUGH_COST = 0.5;

/** Tukey's constant: 95 % efficiency for Gaussian noise. */
const TUKEY = 4.685;
/** Median of |z| of a standard normal. */
const NORMAL_MAD = 0.6744897501960817;

/**
 * Least squares (Levenberg-Marquardt) of ring points to the projected circles of known radii, with
 * Tukey's loss whose scale is found from the points themselves, and with what is believed of the
 * camera and paper as further observations.
 */
export function solveCamera(
  start: CameraState,
  points: readonly RingPoint[],
  options: SolveOptions,
): CameraSolution {
  const n = points.length;
  const angles = Float64Array.from(points, (point) => point.angle);
  const radii = ringRadiiMm(FACES[start.face]);
  const residual = new Float64Array(n);
  const iterations = options.iterations ?? 30;
  const settledCost = options.settledCost ?? 0.003;
  const leastScale = options.leastScale ?? 0.2;
  const size = parameterCount(start);

  let state = start;
  measure(state, points, radii, angles, residual);
  let mixture = mixtureOf(points, residual);
  let scale = Math.min(options.startScale ?? Infinity, Math.max(leastScale, mixture.scale));
  let damping = 1e-5;
  let curvature = tukeyWeight;
  const normal = new Float64Array(size * size);
  const right = new Float64Array(size);
  const { prior } = options;
  const buildNormal = (bend: typeof curvature): void =>
    accumulate(state, points, radii, angles, residual, scale, prior, bend, normal, right);

  for (let i = 0; i < iterations; i++) {
    buildNormal(curvature);
    let cost = objective(state, points, residual, scale, prior);
    let improved = false;
    let moved = 0;
    for (let attempt = 0; attempt < 8; attempt++) {
      const step = dampedStep(normal, right, size, damping);
      if (step) {
        const candidate = movedState(state, step);
        const nextAngles = angles.slice();
        const nextResidual = new Float64Array(n);
        measure(candidate, points, radii, nextAngles, nextResidual);
        const nextCost = objective(candidate, points, nextResidual, scale, prior);
        if (Number.isFinite(nextCost) && nextCost <= cost * (1 + 1e-12)) {
          moved = cost - nextCost;
          state = candidate;
          angles.set(nextAngles);
          residual.set(nextResidual);
          cost = nextCost;
          damping = Math.max(1e-9, damping / 5);
          improved = true;
          break;
        }
      }
      damping *= 6;
    }
    // Near the minimum the last mixture goes on: found anew, it may settle at one place and another
    // in turn where it settles slowly, and no step would be the last.
    mixture = mixtureOf(points, residual, curvature === tukeySlope ? mixture : undefined);
    const found = Math.max(leastScale, mixture.scale);
    const settled = Math.abs(found - scale) < 3e-3 * scale;
    // Shrinking by at most a third a step keeps the robust loss from settling on a wrong start.
    scale = Math.max(found, scale * 0.66);
    if (settled && (improved ? moved < settledCost : curvature === tukeyWeight)) break;
    // Near the minimum the loss's own curvature takes there faster; far from it, weights are safer.
    curvature = improved && moved < 0.01 * cost ? tukeySlope : tukeyWeight;
  }

  buildNormal(tukeyWeight);
  const mapping = mappingParameterCount(state);
  const full = invertNormal(normal, size);
  const factor = efficiencyFactor(points, residual, scale);
  const covariance = Array.from({ length: mapping }, (_, a) =>
    Array.from({ length: mapping }, (_, b) => full[a * size + b]! * factor),
  );
  const weight = Float64Array.from(points, (point, i) =>
    tukeyWeight(residual[i]! / (point.sdPx * scale)),
  );
  return { state, covariance, scale, residualPx: residual, weight };
}

function tukeyWeight(z: number): number {
  const q = z / TUKEY;
  return Math.abs(q) >= 1 ? 0 : (1 - q * q) ** 2;
}

/** Curvature of the loss, where it bends upward: steps by it settle faster than by the weight. */
function tukeySlope(z: number): number {
  const q = (z / TUKEY) ** 2;
  return q >= 0.2 ? 0 : (1 - q) * (1 - 5 * q);
}

function tukeyLoss(z: number): number {
  const q = z / TUKEY;
  const top = (TUKEY * TUKEY) / 6;
  return Math.abs(q) >= 1 ? top : top * (1 - (1 - q * q) ** 3);
}

/** Variance of Tukey's estimate over that of plain least squares with the same weights' sum. */
function efficiencyFactor(
  points: readonly RingPoint[],
  residual: Float64Array,
  scale: number,
): number {
  let psi2 = 0;
  let slope = 0;
  let weights = 0;
  for (let i = 0; i < points.length; i++) {
    const z = residual[i]! / (points[i]!.sdPx * scale);
    const q = (z / TUKEY) ** 2;
    if (q >= 1) continue;
    psi2 += z * z * (1 - q) ** 4;
    slope += (1 - q) * (1 - 5 * q);
    weights += (1 - q) ** 2;
  }
  return slope > 0 ? (psi2 * weights) / (slope * slope) : 1;
}

/** Rounds of expectation and maximisation; the scale settles to a percent in fewer. */
const SCALE_ROUNDS = 12;

interface Mixture {
  /** Of the points that lie on their rings, in their standard deviations. */
  readonly scale: number;
  /** Part of the points that do. */
  readonly share: number;
}

/**
 * Scale of the points that lie on their rings, with whatever share of others strewn evenly over the
 * strip that was searched: the likeliest mixture of a normal and a flat distribution. Unlike the
 * median of the distances it also holds when most points are wrong.
 *
 * @param before Where to start from. @default the nearer half, which may yet be mostly wrong ones
 */
function mixtureOf(
  points: readonly RingPoint[],
  residual: Float64Array,
  before?: Mixture,
): Mixture {
  const n = points.length;
  if (n === 0) return { scale: 1, share: 1 };
  const sizes = new Float64Array(n);
  let reach = 0;
  for (let i = 0; i < n; i++) {
    sizes[i] = Math.abs(residual[i]!) / points[i]!.sdPx;
    reach = Math.max(reach, sizes[i]!);
  }
  reach ||= 1;
  let { scale, share } = before ?? {
    scale: sizes.sort()[n >> 1]! / NORMAL_MAD || reach * 1e-9,
    share: 0.5,
  };
  for (let round = 0; round < SCALE_ROUNDS; round++) {
    const peak = (share * Math.sqrt(2 / Math.PI)) / scale;
    const flat = (1 - share) / reach;
    let weights = 0;
    let squares = 0;
    for (let i = 0; i < n; i++) {
      const z = sizes[i]! / scale;
      const density = peak * Math.exp(-0.5 * z * z);
      const own = density / (density + flat || 1);
      weights += own;
      squares += own * sizes[i]! * sizes[i]!;
    }
    if (!(weights > 0)) break;
    const next = Math.sqrt(squares / weights) || scale;
    // All on their rings still leaves a tail that is flat: never quite certain.
    share = Math.min(0.995, weights / n);
    const settled = Math.abs(next - scale) < 1e-3 * scale;
    scale = next;
    if (settled) break;
  }
  return { scale, share };
}

/** Signed distances of the points from their projected rings; slides each point's angle along. */
function measure(
  state: CameraState,
  points: readonly RingPoint[],
  radii: readonly number[],
  angles: Float64Array,
  residual: Float64Array,
): void {
  const projector = projectorOf(state);
  for (let i = 0; i < points.length; i++) {
    const point = points[i]!;
    const radius = radii[point.ring]! + state.ringOffsetsMm[point.ring]!;
    const [cx, cy] = state.spotCentresMm[point.spot]!;
    for (let pass = 0; ; pass++) {
      const cos = Math.cos(angles[i]!);
      const sin = Math.sin(angles[i]!);
      projector.at(cx + radius * cos, cy + radius * sin);
      const tx = radius * (-sin * projector.alongX[0] + cos * projector.alongY[0]);
      const ty = radius * (-sin * projector.alongX[1] + cos * projector.alongY[1]);
      const dx = point.px[0] - projector.px[0];
      const dy = point.px[1] - projector.px[1];
      const length2 = tx * tx + ty * ty;
      if (pass < 2) {
        const slide = (tx * dx + ty * dy) / length2;
        angles[i]! += Math.max(-0.3, Math.min(0.3, slide));
        if (Math.abs(slide) > 1e-4) continue;
      }
      // The image turns the face's counter-clockwise tangent into outward normal (ty, -tx): y is down.
      residual[i] = (dx * -ty + dy * tx) / Math.sqrt(length2);
      break;
    }
  }
}

function objective(
  state: CameraState,
  points: readonly RingPoint[],
  residual: Float64Array,
  scale: number,
  prior: CameraPrior,
): number {
  let sum = 0;
  for (let i = 0; i < points.length; i++) {
    sum += tukeyLoss(residual[i]! / (points[i]!.sdPx * scale));
  }
  const { difference, sd } = priorTerms(state, prior);
  for (let i = 0; i < sd.length; i++) {
    if (sd[i]! > 0 && Number.isFinite(sd[i]!)) sum += 0.5 * (difference[i]! / sd[i]!) ** 2;
  }
  return sum;
}

/** Normal equations of the re-weighted problem at a state. */
function accumulate(
  state: CameraState,
  points: readonly RingPoint[],
  radii: readonly number[],
  angles: Float64Array,
  residual: Float64Array,
  scale: number,
  prior: CameraPrior,
  curvature: (z: number) => number,
  normal: Float64Array,
  right: Float64Array,
): void {
  const size = right.length;
  normal.fill(0);
  right.fill(0);
  const projector = projectorOf(state);
  const rowX = new Float64Array(size);
  const rowY = new Float64Array(size);
  /** Rows of several points, one after the other, each scaled by the root of its weight. */
  const rows = new Float64Array(ROWS_AT_ONCE * size);
  let waiting = 0;
  const row = new Float64Array(size);
  const spotsAt = PARAMETER.bulge + state.bulge.length;
  const several = state.spotCentresMm.length > 1;
  const offsetsAt = mappingParameterCount(state);
  // Every point moves with the camera and the bulge; of spots and rings only with its own.
  const own = new Int32Array(3);
  for (let i = 0; i < points.length; i++) {
    const point = points[i]!;
    const z = residual[i]! / (point.sdPx * scale);
    const weight = tukeyWeight(z);
    if (weight === 0) continue;
    const radius = radii[point.ring]! + state.ringOffsetsMm[point.ring]!;
    const [cx, cy] = state.spotCentresMm[point.spot]!;
    const cos = Math.cos(angles[i]!);
    const sin = Math.sin(angles[i]!);
    projector.slopes(cx + radius * cos, cy + radius * sin, rowX, rowY);
    const { alongX, alongY } = projector;
    const tx = -sin * alongX[0] + cos * alongY[0];
    const ty = -sin * alongX[1] + cos * alongY[1];
    const length = Math.sqrt(tx * tx + ty * ty);
    const nx = -ty / length;
    const ny = tx / length;
    // Residual = n . (seen - projected): its slope is minus the projection's along n.
    const precision = 1 / (point.sdPx * scale) ** 2;
    const pull = weight * precision * residual[i]!;
    const inverse = precision * curvature(z);
    for (let a = 0; a < spotsAt; a++) row[a] = nx * rowX[a]! + ny * rowY[a]!;
    const root = Math.sqrt(inverse);
    const start = waiting * spotsAt;
    for (let a = 0; a < spotsAt; a++) {
      right[a]! += row[a]! * pull;
      rows[start + a] = row[a]! * root;
    }
    if (++waiting === ROWS_AT_ONCE) {
      addSquares(normal, size, rows, spotsAt);
      waiting = 0;
    }
    let owns = 0;
    if (several) {
      const a = spotsAt + 2 * point.spot;
      row[a] = nx * alongX[0] + ny * alongX[1];
      row[a + 1] = nx * alongY[0] + ny * alongY[1];
      own[owns++] = a;
      own[owns++] = a + 1;
    }
    const ringAt = offsetsAt + point.ring;
    row[ringAt] =
      nx * (cos * alongX[0] + sin * alongY[0]) + ny * (cos * alongX[1] + sin * alongY[1]);
    own[owns++] = ringAt;
    for (let p = 0; p < owns; p++) {
      const a = own[p]!;
      const scaled = row[a]! * inverse;
      right[a]! += row[a]! * pull;
      const at = a * size;
      for (let b = 0; b < spotsAt; b++) normal[at + b]! += scaled * row[b]!;
      for (let q = 0; q <= p; q++) normal[at + own[q]!]! += scaled * row[own[q]!]!;
    }
  }
  rows.fill(0, waiting * spotsAt);
  addSquares(normal, size, rows, spotsAt);
  const { difference, sd } = priorTerms(state, prior);
  for (let a = 0; a < size; a++) {
    if (sd[a] === 0) {
      // Held fast: no step along it, no share in the covariance.
      for (let b = 0; b < size; b++) {
        normal[a * size + b] = 0;
        normal[b * size + a] = 0;
      }
      normal[a * size + a] = 1e30;
      right[a] = 0;
    } else if (Number.isFinite(sd[a]!)) {
      normal[a * size + a]! += 1 / sd[a]! ** 2;
      right[a]! -= difference[a]! / sd[a]! ** 2;
    }
  }
  for (let a = 0; a < size; a++) {
    for (let b = 0; b < a; b++) normal[b * size + a] = normal[a * size + b]!;
  }
}

/** Each number of the normal equations is fetched and stored once for so many points. */
const ROWS_AT_ONCE = 4;

/** Adds the products of four rows of so many columns with themselves to a matrix, below its diagonal. */
function addSquares(normal: Float64Array, size: number, rows: Float64Array, columns: number): void {
  const second = columns;
  const third = 2 * columns;
  const fourth = 3 * columns;
  for (let a = 0; a < columns; a++) {
    const p = rows[a]!;
    const q = rows[second + a]!;
    const r = rows[third + a]!;
    const t = rows[fourth + a]!;
    const at = a * size;
    for (let b = 0; b <= a; b++) {
      normal[at + b]! +=
        p * rows[b]! + q * rows[second + b]! + r * rows[third + b]! + t * rows[fourth + b]!;
    }
  }
}

/** Brings the diagonal to one, so that millimetres, radians and pixels solve equally well. */
function scaledNormal(
  normal: Float64Array,
  size: number,
  damping: number,
): { matrix: Matrix; unit: Float64Array } {
  const unit = new Float64Array(size);
  for (let a = 0; a < size; a++) unit[a] = 1 / Math.sqrt(normal[a * size + a]! || 1);
  const matrix = Matrix.zeros(size, size);
  for (let a = 0; a < size; a++) {
    for (let b = 0; b < size; b++) {
      matrix.set(a, b, normal[a * size + b]! * (unit[a]! * unit[b]!));
    }
    matrix.set(a, a, (matrix.get(a, a) || 1) * (1 + damping));
  }
  return { matrix, unit };
}

function dampedStep(
  normal: Float64Array,
  right: Float64Array,
  size: number,
  damping: number,
): Float64Array | null {
  const { matrix, unit } = scaledNormal(normal, size, damping);
  const cholesky = new CholeskyDecomposition(matrix);
  if (!cholesky.isPositiveDefinite()) return null;
  const scaled = Matrix.columnVector(Array.from(right, (value, a) => value * unit[a]!));
  const solution = cholesky.solve(scaled);
  return Float64Array.from({ length: size }, (_, a) => solution.get(a, 0) * unit[a]!);
}

function invertNormal(normal: Float64Array, size: number): Float64Array {
  const { matrix, unit } = scaledNormal(normal, size, 1e-12);
  const inverse = new CholeskyDecomposition(matrix).solve(Matrix.eye(size));
  const out = new Float64Array(size * size);
  for (let a = 0; a < size; a++) {
    for (let b = 0; b < size; b++) out[a * size + b] = inverse.get(a, b) * unit[a]! * unit[b]!;
  }
  return out;
}
