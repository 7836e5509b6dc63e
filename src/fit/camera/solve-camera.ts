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

/** What a solution is found from; the same in all its steps. */
interface Problem {
  readonly points: readonly RingPoint[];
  /** Printed radii of the face's rings, mm. */
  readonly radiiMm: readonly number[];
  readonly prior: CameraPrior;
}

/** A state, and where the points lie about the rings that it projects. */
interface Trial {
  readonly state: CameraState;
  /** Per point: angle on its ring of the place nearest to it, rad. */
  readonly angle: Float64Array;
  /** Per point: signed distance outside (positive) its ring, px. */
  readonly residualPx: Float64Array;
}

/** Normal equations `matrix * step = right` of a trial's parameters, the matrix row by row. */
interface NormalEquations {
  readonly size: number;
  readonly matrix: Float64Array;
  readonly right: Float64Array;
}

/**
 * Marquardt's damping at the start, its least, how it falls after a step that helps and grows after
 * one that does not. Common values: they decide how many steps it takes, not where these end.
 */
const DAMPING = { start: 1e-5, least: 1e-9, fall: 5, growth: 6, attempts: 8 };

/** Smaller parts than this are rounding: a cost that grows by it is no worse. */
const ROUNDING = 1e-12;

/** Part by which the scale may change in a step and still count as settled. */
const SETTLED_SCALE = 3e-3;

/** Shrinking by at most a third a step keeps the robust loss from settling on a wrong start. */
const SLOWEST_SHRINK = 0.66;

/** A step that lowers the cost by less than this part of it is near the minimum. */
const NEAR_MINIMUM = 0.01;

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
  const { prior, iterations = 30, settledCost = 0.003, leastScale = 0.2 } = options;
  const problem: Problem = { points, radiiMm: ringRadiiMm(FACES[start.face]), prior };

  let trial = tried(
    start,
    problem,
    Float64Array.from(points, (point) => point.angle),
  );
  let mixture = mixtureOf(trial, points);
  let scale = Math.min(options.startScale ?? Infinity, Math.max(leastScale, mixture.scale));
  let damping = DAMPING.start;
  let curvature = tukeyWeight;

  for (let i = 0; i < iterations; i++) {
    const equations = normalEquations(trial, problem, { scale, curvature });
    const cost = costOf(trial, problem, scale);
    const step = lowerTrial({ trial, cost, equations, damping }, problem, scale);
    damping = step.damping;
    trial = step.trial ?? trial;
    const moved = step.trial ? cost - step.cost : 0;
    // Near the minimum the last mixture goes on: found anew, it may settle at one place and another
    // in turn where it settles slowly, and no step would be the last.
    mixture = mixtureOf(trial, points, curvature === tukeySlope ? mixture : undefined);
    const found = Math.max(leastScale, mixture.scale);
    const settled = Math.abs(found - scale) < SETTLED_SCALE * scale;
    scale = Math.max(found, scale * SLOWEST_SHRINK);
    if (settled && (step.trial ? moved < settledCost : curvature === tukeyWeight)) break;
    // Near the minimum the loss's own curvature takes there faster; far from it, weights are safer.
    curvature = step.trial && moved < NEAR_MINIMUM * step.cost ? tukeySlope : tukeyWeight;
  }

  const weight = Float64Array.from(points, (point, i) =>
    tukeyWeight(trial.residualPx[i]! / (point.sdPx * scale)),
  );
  return {
    state: trial.state,
    covariance: covarianceOf(trial, problem, scale),
    scale,
    residualPx: trial.residualPx,
    weight,
  };
}

/** The first of ever shorter steps that lowers the cost, and the damping to go on with. */
function lowerTrial(
  from: { trial: Trial; cost: number; equations: NormalEquations; damping: number },
  problem: Problem,
  scale: number,
): { trial: Trial | null; cost: number; damping: number } {
  let { damping } = from;
  for (let attempt = 0; attempt < DAMPING.attempts; attempt++) {
    const step = dampedStep(from.equations, damping);
    if (step) {
      const trial = tried(movedState(from.trial.state, step), problem, from.trial.angle);
      const cost = costOf(trial, problem, scale);
      if (Number.isFinite(cost) && cost <= from.cost * (1 + ROUNDING)) {
        return { trial, cost, damping: Math.max(DAMPING.least, damping / DAMPING.fall) };
      }
    }
    damping *= DAMPING.growth;
  }
  return { trial: null, cost: from.cost, damping };
}

/** Covariance of the mapping's parameters about a solution. */
function covarianceOf(trial: Trial, problem: Problem, scale: number): number[][] {
  const equations = normalEquations(trial, problem, { scale, curvature: tukeyWeight });
  const mapping = mappingParameterCount(trial.state);
  const full = invertNormal(equations);
  const factor = efficiencyFactor(trial, problem.points, scale);
  return Array.from({ length: mapping }, (_, a) =>
    Array.from({ length: mapping }, (_, b) => full[a * equations.size + b]! * factor),
  );
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
  { residualPx }: Trial,
  points: readonly RingPoint[],
  scale: number,
): number {
  let psi2 = 0;
  let slope = 0;
  let weights = 0;
  for (let i = 0; i < points.length; i++) {
    const z = residualPx[i]! / (points[i]!.sdPx * scale);
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
function mixtureOf({ residualPx }: Trial, points: readonly RingPoint[], before?: Mixture): Mixture {
  const n = points.length;
  if (n === 0) return { scale: 1, share: 1 };
  const sizes = new Float64Array(n);
  let reach = 0;
  for (let i = 0; i < n; i++) {
    sizes[i] = Math.abs(residualPx[i]!) / points[i]!.sdPx;
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

/** A point's place on its ring is slid by at most so much at once, until less than so much, rad. */
const SLIDE = { settled: 1e-4, most: 0.3, passes: 2 };

/** A state tried: slides each point along its ring from the angles given, and measures across. */
function tried(state: CameraState, problem: Problem, from: Float64Array): Trial {
  const { points, radiiMm } = problem;
  const angle = from.slice();
  const residualPx = new Float64Array(points.length);
  const projector = projectorOf(state);
  for (let i = 0; i < points.length; i++) {
    const point = points[i]!;
    const radius = radiiMm[point.ring]! + state.ringOffsetsMm[point.ring]!;
    const [cx, cy] = state.spotCentresMm[point.spot]!;
    for (let pass = 0; ; pass++) {
      const cos = Math.cos(angle[i]!);
      const sin = Math.sin(angle[i]!);
      projector.at(cx + radius * cos, cy + radius * sin);
      const tx = radius * (-sin * projector.alongX[0] + cos * projector.alongY[0]);
      const ty = radius * (-sin * projector.alongX[1] + cos * projector.alongY[1]);
      const dx = point.px[0] - projector.px[0];
      const dy = point.px[1] - projector.px[1];
      const length2 = tx * tx + ty * ty;
      if (pass < SLIDE.passes) {
        const slide = (tx * dx + ty * dy) / length2;
        angle[i]! += Math.max(-SLIDE.most, Math.min(SLIDE.most, slide));
        if (Math.abs(slide) > SLIDE.settled) continue;
      }
      // The image turns the face's counter-clockwise tangent into outward normal (ty, -tx): y is down.
      residualPx[i] = (dx * -ty + dy * tx) / Math.sqrt(length2);
      break;
    }
  }
  return { state, angle, residualPx };
}

/** Sum of the points' losses and of half the squares of what departs from belief. */
function costOf({ state, residualPx }: Trial, { points, prior }: Problem, scale: number): number {
  let sum = 0;
  for (let i = 0; i < points.length; i++) {
    sum += tukeyLoss(residualPx[i]! / (points[i]!.sdPx * scale));
  }
  const { difference, sd } = priorTerms(state, prior);
  for (let i = 0; i < sd.length; i++) {
    if (sd[i]! > 0 && Number.isFinite(sd[i]!)) sum += 0.5 * (difference[i]! / sd[i]!) ** 2;
  }
  return sum;
}

interface Loss {
  /** Common factor of the points' standard deviations. */
  readonly scale: number;
  /** Curvature of the loss at a residual in standard deviations: `tukeyWeight` or `tukeySlope`. */
  readonly curvature: (z: number) => number;
}

/** Normal equations of the re-weighted problem at a trial, belief included. */
function normalEquations(trial: Trial, problem: Problem, loss: Loss): NormalEquations {
  const size = parameterCount(trial.state);
  const equations = {
    size,
    matrix: new Float64Array(size * size),
    right: new Float64Array(size),
  };
  addPoints(equations, trial, problem, loss);
  addBelief(equations, trial.state, problem.prior);
  const { matrix } = equations;
  for (let a = 0; a < size; a++) {
    for (let b = 0; b < a; b++) matrix[b * size + a] = matrix[a * size + b]!;
  }
  return equations;
}

/** Adds what the points say to normal equations, on and below the diagonal. */
function addPoints(
  { size, matrix, right }: NormalEquations,
  { state, angle, residualPx }: Trial,
  { points, radiiMm }: Problem,
  { scale, curvature }: Loss,
): void {
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
    const z = residualPx[i]! / (point.sdPx * scale);
    const weight = tukeyWeight(z);
    if (weight === 0) continue;
    const radius = radiiMm[point.ring]! + state.ringOffsetsMm[point.ring]!;
    const [cx, cy] = state.spotCentresMm[point.spot]!;
    const cos = Math.cos(angle[i]!);
    const sin = Math.sin(angle[i]!);
    projector.slopes(cx + radius * cos, cy + radius * sin, rowX, rowY);
    const { alongX, alongY } = projector;
    const tx = -sin * alongX[0] + cos * alongY[0];
    const ty = -sin * alongX[1] + cos * alongY[1];
    const length = Math.sqrt(tx * tx + ty * ty);
    const nx = -ty / length;
    const ny = tx / length;
    // Residual = n . (seen - projected): its slope is minus the projection's along n.
    const precision = 1 / (point.sdPx * scale) ** 2;
    const pull = weight * precision * residualPx[i]!;
    const inverse = precision * curvature(z);
    for (let a = 0; a < spotsAt; a++) row[a] = nx * rowX[a]! + ny * rowY[a]!;
    const root = Math.sqrt(inverse);
    const start = waiting * spotsAt;
    for (let a = 0; a < spotsAt; a++) {
      right[a]! += row[a]! * pull;
      rows[start + a] = row[a]! * root;
    }
    if (++waiting === ROWS_AT_ONCE) {
      addSquares(matrix, size, rows, spotsAt);
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
      for (let b = 0; b < spotsAt; b++) matrix[at + b]! += scaled * row[b]!;
      for (let q = 0; q <= p; q++) matrix[at + own[q]!]! += scaled * row[own[q]!]!;
    }
  }
  rows.fill(0, waiting * spotsAt);
  addSquares(matrix, size, rows, spotsAt);
}

/** The diagonal of a parameter that is held fast: no step along it, no share in the covariance. */
const HELD = 1e30;

/** Adds what is believed of each parameter to normal equations. */
function addBelief(
  { size, matrix, right }: NormalEquations,
  state: CameraState,
  prior: CameraPrior,
): void {
  const { difference, sd } = priorTerms(state, prior);
  for (let a = 0; a < size; a++) {
    if (sd[a] === 0) {
      for (let b = 0; b < size; b++) {
        matrix[a * size + b] = 0;
        matrix[b * size + a] = 0;
      }
      matrix[a * size + a] = HELD;
      right[a] = 0;
    } else if (Number.isFinite(sd[a]!)) {
      matrix[a * size + a]! += 1 / sd[a]! ** 2;
      right[a]! -= difference[a]! / sd[a]! ** 2;
    }
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
  { size, matrix: normal }: NormalEquations,
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

function dampedStep(equations: NormalEquations, damping: number): Float64Array | null {
  const { matrix, unit } = scaledNormal(equations, damping);
  const cholesky = new CholeskyDecomposition(matrix);
  if (!cholesky.isPositiveDefinite()) return null;
  const scaled = Matrix.columnVector(Array.from(equations.right, (value, a) => value * unit[a]!));
  const solution = cholesky.solve(scaled);
  return Float64Array.from(unit, (one, a) => solution.get(a, 0) * one);
}

function invertNormal(equations: NormalEquations): Float64Array {
  const { size } = equations;
  const { matrix, unit } = scaledNormal(equations, ROUNDING);
  const inverse = new CholeskyDecomposition(matrix).solve(Matrix.eye(size));
  const out = new Float64Array(size * size);
  for (let a = 0; a < size; a++) {
    for (let b = 0; b < size; b++) out[a * size + b] = inverse.get(a, b) * unit[a]! * unit[b]!;
  }
  return out;
}
