import { FACES, ringRadiiMm } from '../../face/faces.ts';
import {
  mappingParameterCount,
  movedState,
  priorTerms,
  projectorOf,
  type CameraPrior,
  type CameraState,
} from './camera-state.ts';
import {
  equationsOf,
  freeParameters,
  inverseOf,
  roomForSlopes,
  stepOf,
  writeSlopes,
  type FreeParameters,
  type NormalEquations,
  type PlacesOnRings,
  type PointSlopes,
} from './normal-equations.ts';

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
/** Loss of a point that is not of its ring at all. */
const MOST_LOSS = (TUKEY * TUKEY) / 6;
/** Median of |z| of a standard normal. */
export const NORMAL_MAD = 0.6744897501960817;

/** What a solution is found from; the same in all its steps. Lists have a number for each point. */
interface Problem extends PlacesOnRings {
  readonly pxX: Float64Array;
  readonly pxY: Float64Array;
  /** 1 / `sdPx` */
  readonly precision: Float64Array;
  readonly prior: CameraPrior;
  readonly free: FreeParameters;
  /** Room that all trials' equations are made in. */
  readonly slopes: PointSlopes;
  readonly weight: Float64Array;
  readonly pull: Float64Array;
}

/** A state, and where the points lie about the rings that it projects. */
interface Trial {
  readonly state: CameraState;
  /** Per point: angle on its ring of the place nearest to it, rad. */
  readonly angle: Float64Array;
  /** Per point: signed distance outside (positive) its ring, px. */
  readonly residualPx: Float64Array;
  readonly belief: ReturnType<typeof priorTerms>;
}

interface Loss {
  /** Common factor of the points' standard deviations. */
  readonly scale: number;
  /** Curvature of the loss at a residual in standard deviations: `tukeyWeight` or `tukeySlope`. */
  readonly curvature: (z: number) => number;
}

/**
 * Marquardt's damping at the start, its least, how it falls after a step that helps and grows after
 * one that does not. Common values: they decide how many steps it takes, not where these end.
 */
const DAMPING = { start: 1e-5, least: 1e-9, fall: 5, growth: 6, attempts: 8 };

/** Steps that promise less than this part of the settled cost are not worth trying. */
const WORTHLESS = 0.01;

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
  const problem = problemOf(start, points, prior);

  let trial = tried(
    start,
    problem,
    Float64Array.from(points, (point) => point.angle),
  );
  let mixture = mixtureOf(trial, problem);
  let scale = Math.min(options.startScale ?? Infinity, Math.max(leastScale, mixture.scale));
  let damping = DAMPING.start;
  let curvature = tukeyWeight;

  for (let i = 0; i < iterations; i++) {
    const equations = normalEquations(trial, problem, { scale, curvature });
    const cost = costOf(trial, problem, scale);
    const least = WORTHLESS * settledCost;
    const step = lowerTrial({ trial, cost, equations, damping, least }, problem, scale);
    damping = step.damping;
    trial = step.trial ?? trial;
    const moved = step.trial ? cost - step.cost : 0;
    // Near the minimum the last mixture goes on: found anew, it may settle at one place and another
    // in turn where it settles slowly, and no step would be the last.
    mixture = mixtureOf(trial, problem, curvature === tukeySlope ? mixture : undefined);
    const found = Math.max(leastScale, mixture.scale);
    const settled = Math.abs(found - scale) < SETTLED_SCALE * scale;
    scale = Math.max(found, scale * SLOWEST_SHRINK);
    if (settled && (step.trial ? moved < settledCost : curvature === tukeyWeight)) break;
    // Near the minimum the loss's own curvature takes there faster; far from it, weights are safer.
    curvature = step.trial && moved < NEAR_MINIMUM * step.cost ? tukeySlope : tukeyWeight;
  }

  const { residualPx } = trial;
  return {
    state: trial.state,
    covariance: covarianceOf(trial, problem, scale),
    scale,
    residualPx,
    weight: residualPx.map((px, i) => tukeyWeight((px * problem.precision[i]!) / scale)),
  };
}

function problemOf(start: CameraState, points: readonly RingPoint[], prior: CameraPrior): Problem {
  const radii = ringRadiiMm(FACES[start.face]);
  const free = freeParameters(start, priorTerms(start, prior).sd);
  const count = points.length;
  const problem: Problem = {
    spot: new Int32Array(count),
    ring: new Int32Array(count),
    radiusMm: new Float64Array(count),
    pxX: new Float64Array(count),
    pxY: new Float64Array(count),
    precision: new Float64Array(count),
    prior,
    free,
    slopes: roomForSlopes(count, free),
    weight: new Float64Array(count),
    pull: new Float64Array(count),
  };
  points.forEach(({ spot, ring, px, sdPx }, i) => {
    problem.spot[i] = spot;
    problem.ring[i] = ring;
    problem.radiusMm[i] = radii[ring]!;
    problem.pxX[i] = px[0];
    problem.pxY[i] = px[1];
    problem.precision[i] = 1 / sdPx;
  });
  return problem;
}

/** The first of ever shorter steps that lowers the cost, and the damping to go on with. */
function lowerTrial(
  from: { trial: Trial; cost: number; equations: NormalEquations; damping: number; least: number },
  problem: Problem,
  scale: number,
): { trial: Trial | null; cost: number; damping: number } {
  const { free } = problem;
  const { matrix, right } = from.equations;
  let { damping } = from;
  for (let attempt = 0; attempt < DAMPING.attempts; attempt++) {
    const step = stepOf(matrix, right, damping);
    if (step) {
      if (0.5 * dot(right, step) < from.least) break;
      const all = new Float64Array(free.all);
      step.forEach((value, a) => (all[free.of[a]!] = value));
      const trial = tried(movedState(from.trial.state, all), problem, from.trial.angle);
      const cost = costOf(trial, problem, scale);
      if (Number.isFinite(cost) && cost <= from.cost * (1 + ROUNDING)) {
        return { trial, cost, damping: Math.max(DAMPING.least, damping / DAMPING.fall) };
      }
    }
    damping *= DAMPING.growth;
  }
  return { trial: null, cost: from.cost, damping };
}

/** Normal equations of the re-weighted problem at a trial, belief included. */
function normalEquations(
  { state, angle, residualPx, belief: { difference, sd } }: Trial,
  problem: Problem,
  { scale, curvature }: Loss,
): NormalEquations {
  const { precision, free, slopes, weight, pull } = problem;
  for (let i = 0; i < angle.length; i++) {
    const own = precision[i]! / scale;
    const z = residualPx[i]! * own;
    weight[i] = own * own * curvature(z);
    pull[i] = own * z * tukeyWeight(z);
  }
  writeSlopes(slopes, state, angle, problem, free);
  const equations = equationsOf(slopes, weight, pull, problem, free);
  const { matrix, right } = equations;
  free.of.forEach((parameter, a) => {
    const precise = 1 / sd[parameter]! ** 2;
    matrix[a * right.length + a]! += precise;
    right[a]! -= difference[parameter]! * precise;
  });
  return equations;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/** Covariance of the mapping's parameters about a solution. */
function covarianceOf(trial: Trial, problem: Problem, scale: number): number[][] {
  const { free } = problem;
  const { matrix } = normalEquations(trial, problem, { scale, curvature: tukeyWeight });
  const size = free.of.length;
  const inverse = inverseOf(matrix, size, ROUNDING);
  const factor = efficiencyFactor(trial, problem, scale);
  const mapping = mappingParameterCount(trial.state);
  const covariance = Array.from({ length: mapping }, () => new Array<number>(mapping).fill(0));
  free.of.forEach((row, a) => {
    free.of.forEach((column, b) => {
      if (row >= mapping || column >= mapping) return;
      covariance[row]![column] = inverse[a * size + b]! * factor;
    });
  });
  return covariance;
}

function tukeyWeight(z: number): number {
  const q = z / TUKEY;
  const left = 1 - q * q;
  return left <= 0 ? 0 : left * left;
}

/** Curvature of the loss, where it bends upward: steps by it settle faster than by the weight. */
function tukeySlope(z: number): number {
  const q = (z / TUKEY) ** 2;
  return q >= 0.2 ? 0 : (1 - q) * (1 - 5 * q);
}

function tukeyLoss(z: number): number {
  const q = z / TUKEY;
  const left = 1 - q * q;
  return left <= 0 ? MOST_LOSS : MOST_LOSS * (1 - left * left * left);
}

/** Variance of Tukey's estimate over that of plain least squares with the same weights' sum. */
function efficiencyFactor({ residualPx }: Trial, { precision }: Problem, scale: number): number {
  let psi2 = 0;
  let slope = 0;
  let weights = 0;
  for (let i = 0; i < residualPx.length; i++) {
    const z = (residualPx[i]! * precision[i]!) / scale;
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
function mixtureOf({ residualPx }: Trial, { precision }: Problem, before?: Mixture): Mixture {
  const n = residualPx.length;
  if (n === 0) return { scale: 1, share: 1 };
  const sizes = new Float64Array(n);
  let reach = 0;
  for (let i = 0; i < n; i++) {
    sizes[i] = Math.abs(residualPx[i]!) * precision[i]!;
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
const SLIDE = { settled: 1e-3, most: 0.3, passes: 2 };

/** A state tried: slides each point along its ring from the angles given, and measures across. */
function tried(state: CameraState, problem: Problem, from: Float64Array): Trial {
  const { spot, ring, radiusMm, pxX, pxY } = problem;
  const angle = from.slice();
  const residualPx = new Float64Array(angle.length);
  const projector = projectorOf(state);
  const { px, alongX, alongY } = projector;
  for (let i = 0; i < angle.length; i++) {
    const radius = radiusMm[i]! + state.ringOffsetsMm[ring[i]!]!;
    const [cx, cy] = state.spotCentresMm[spot[i]!]!;
    for (let pass = 0; ; pass++) {
      const cos = Math.cos(angle[i]!);
      const sin = Math.sin(angle[i]!);
      projector.at(cx + radius * cos, cy + radius * sin);
      const tx = radius * (-sin * alongX[0] + cos * alongY[0]);
      const ty = radius * (-sin * alongX[1] + cos * alongY[1]);
      const dx = pxX[i]! - px[0];
      const dy = pxY[i]! - px[1];
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
  return { state, angle, residualPx, belief: priorTerms(state, problem.prior) };
}

/** Sum of the points' losses and of half the squares of what departs from belief. */
function costOf({ residualPx, belief }: Trial, { precision }: Problem, scale: number): number {
  let sum = 0;
  for (let i = 0; i < residualPx.length; i++) {
    sum += tukeyLoss((residualPx[i]! * precision[i]!) / scale);
  }
  const { difference, sd } = belief;
  for (let i = 0; i < sd.length; i++) {
    if (sd[i]! > 0 && Number.isFinite(sd[i]!)) sum += 0.5 * (difference[i]! / sd[i]!) ** 2;
  }
  return sum;
}
