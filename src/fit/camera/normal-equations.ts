import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { mappingParameterCount, PARAMETER, projectorOf, type CameraState } from './camera-state.ts';

/** Which parameters are estimated: those that belief does not hold fast, in the order of all. */
export interface FreeParameters {
  /** Number of all parameters, those held fast included. */
  readonly all: number;
  /** Index of each one that is free. */
  readonly of: Int32Array;
  /** So many of them move every point: camera and bulge. */
  readonly common: number;
  /** Where the x of each spot's centre is among the free ones, its y following; -1 where it is held. */
  readonly spotAt: Int32Array;
  /** Where the offset of each ring is among the free ones, -1 where it is held. */
  readonly ringAt: Int32Array;
}

/** @param sd Of belief, per parameter; 0 where it is held fast. */
export function freeParameters(state: CameraState, sd: readonly number[]): FreeParameters {
  const of = Int32Array.from(sd.keys()).filter((i) => sd[i] !== 0);
  const spotsAt = PARAMETER.bulge + state.bulge.length;
  const ringsAt = mappingParameterCount(state);
  const several = ringsAt > spotsAt;
  return {
    all: sd.length,
    of,
    common: of.filter((i) => i < spotsAt).length,
    spotAt: Int32Array.from(state.spotCentresMm, (_, spot) =>
      several ? of.indexOf(spotsAt + 2 * spot) : -1,
    ),
    ringAt: Int32Array.from(state.ringOffsetsMm, (_, ring) => of.indexOf(ringsAt + ring)),
  };
}

/** Places on rings, point by point. */
export interface PlacesOnRings {
  readonly spot: Int32Array;
  readonly ring: Int32Array;
  /** Printed radius of each point's ring, mm. */
  readonly radiusMm: Float64Array;
}

/** How the free parameters move the image of each point's place across its ring, px outward. */
export interface PointSlopes {
  /** Of the common parameters, a row of `free.common` for each point. */
  readonly rows: Float64Array;
  /** Of the point's own spot's centre, x and y, and of its own ring's offset, three for each point. */
  readonly own: Float64Array;
}

/** Numbers of one point in `PointSlopes.own`. */
const OWN = { x: 0, y: 1, ring: 2, count: 3 } as const;

/** Room for the slopes of so many points. */
export function roomForSlopes(points: number, { common }: FreeParameters): PointSlopes {
  return {
    rows: new Float64Array(points * common),
    own: new Float64Array(points * OWN.count),
  };
}

/**
 * Writes slopes.
 *
 * @param angle Per point: where on its ring, rad.
 */
export function writeSlopes(
  { rows, own }: PointSlopes,
  state: CameraState,
  angle: Float64Array,
  { ring, spot, radiusMm }: PlacesOnRings,
  { common, of }: FreeParameters,
): void {
  const points = angle.length;
  const projector = projectorOf(state);
  const { alongX, alongY } = projector;
  const allX = new Float64Array(PARAMETER.bulge + state.bulge.length);
  const allY = new Float64Array(allX.length);
  for (let i = 0; i < points; i++) {
    const radius = radiusMm[i]! + state.ringOffsetsMm[ring[i]!]!;
    const [cx, cy] = state.spotCentresMm[spot[i]!]!;
    const cos = Math.cos(angle[i]!);
    const sin = Math.sin(angle[i]!);
    projector.slopes(cx + radius * cos, cy + radius * sin, allX, allY);
    const tx = -sin * alongX[0] + cos * alongY[0];
    const ty = -sin * alongX[1] + cos * alongY[1];
    const length = Math.sqrt(tx * tx + ty * ty);
    const nx = -ty / length;
    const ny = tx / length;
    const row = i * common;
    for (let a = 0; a < common; a++) rows[row + a] = nx * allX[of[a]!]! + ny * allY[of[a]!]!;
    const x = nx * alongX[0] + ny * alongX[1];
    const y = nx * alongY[0] + ny * alongY[1];
    own[OWN.count * i + OWN.x] = x;
    own[OWN.count * i + OWN.y] = y;
    own[OWN.count * i + OWN.ring] = cos * x + sin * y;
  }
}

/** Normal equations `matrix * step = right` of the free parameters, the matrix row by row. */
export interface NormalEquations {
  readonly matrix: Float64Array;
  readonly right: Float64Array;
}

/**
 * What points say, without belief.
 *
 * @param weight Per point: curvature of its loss, 1 / px^2.
 * @param pull Per point: slope of its loss, 1 / px.
 */
export function equationsOf(
  slopes: PointSlopes,
  weight: Float64Array,
  pull: Float64Array,
  places: PlacesOnRings,
  free: FreeParameters,
): NormalEquations {
  const size = free.of.length;
  const matrix = new Float64Array(size * size);
  addCommon(matrix, size, slopes.rows, weight, free.common);
  addOwn(matrix, slopes, weight, places, free);
  for (let a = 0; a < size; a++) {
    for (let b = 0; b < a; b++) matrix[b * size + a] = matrix[a * size + b]!;
  }
  return { matrix, right: rightOf(slopes, pull, places, free) };
}

/** Each number of the matrix is fetched and stored once for so many points. */
const POINTS_AT_ONCE = 4;

/** Adds the weighed products of rows of so many columns with themselves to a matrix, below its diagonal. */
function addCommon(
  matrix: Float64Array,
  size: number,
  rows: Float64Array,
  weight: Float64Array,
  columns: number,
): void {
  const points = Int32Array.from(weight.keys()).filter((i) => weight[i] !== 0);
  const whole = points.length - (points.length % POINTS_AT_ONCE);
  for (let i = 0; i < whole; i += POINTS_AT_ONCE) {
    const first = points[i]!;
    const second = points[i + 1]!;
    const third = points[i + 2]!;
    const fourth = points[i + 3]!;
    const rowP = first * columns;
    const rowQ = second * columns;
    const rowR = third * columns;
    const rowT = fourth * columns;
    for (let a = 0; a < columns; a++) {
      const p = weight[first]! * rows[rowP + a]!;
      const q = weight[second]! * rows[rowQ + a]!;
      const r = weight[third]! * rows[rowR + a]!;
      const t = weight[fourth]! * rows[rowT + a]!;
      const at = a * size;
      for (let b = 0; b <= a; b++) {
        matrix[at + b]! +=
          p * rows[rowP + b]! + q * rows[rowQ + b]! + r * rows[rowR + b]! + t * rows[rowT + b]!;
      }
    }
  }
  for (let i = whole; i < points.length; i++) {
    const row = points[i]! * columns;
    for (let a = 0; a < columns; a++) {
      const p = weight[points[i]!]! * rows[row + a]!;
      for (let b = 0; b <= a; b++) matrix[a * size + b]! += p * rows[row + b]!;
    }
  }
}

/** Adds what the points say of their spots' centres and their rings' offsets. */
function addOwn(
  matrix: Float64Array,
  { rows, own }: PointSlopes,
  weight: Float64Array,
  { spot, ring }: PlacesOnRings,
  { of, common, spotAt, ringAt }: FreeParameters,
): void {
  const size = of.length;
  const at = new Int32Array(OWN.count);
  const slope = new Float64Array(OWN.count);
  for (let i = 0; i < weight.length; i++) {
    if (weight[i] === 0) continue;
    let count = 0;
    const x = spotAt[spot[i]!]!;
    if (x >= 0) {
      at[count] = x;
      slope[count++] = own[OWN.count * i + OWN.x]!;
      at[count] = x + 1;
      slope[count++] = own[OWN.count * i + OWN.y]!;
    }
    const offset = ringAt[ring[i]!]!;
    if (offset >= 0) {
      at[count] = offset;
      slope[count++] = own[OWN.count * i + OWN.ring]!;
    }
    for (let p = 0; p < count; p++) {
      const weighed = weight[i]! * slope[p]!;
      const to = at[p]! * size;
      for (let b = 0, from = i * common; b < common; b++) {
        matrix[to + b]! += weighed * rows[from + b]!;
      }
      for (let q = 0; q <= p; q++) matrix[to + at[q]!]! += weighed * slope[q]!;
    }
  }
}

/** The sum of each point's slopes times its pull. */
function rightOf(
  { rows, own }: PointSlopes,
  pull: Float64Array,
  { spot, ring }: PlacesOnRings,
  { of, common, spotAt, ringAt }: FreeParameters,
): Float64Array {
  const right = new Float64Array(of.length);
  for (let i = 0; i < pull.length; i++) {
    const one = pull[i]!;
    if (one === 0) continue;
    for (let a = 0, from = i * common; a < common; a++) right[a]! += one * rows[from + a]!;
    const x = spotAt[spot[i]!]!;
    if (x >= 0) {
      right[x]! += one * own[OWN.count * i + OWN.x]!;
      right[x + 1]! += one * own[OWN.count * i + OWN.y]!;
    }
    const offset = ringAt[ring[i]!]!;
    if (offset >= 0) right[offset]! += one * own[OWN.count * i + OWN.ring]!;
  }
  return right;
}

/** Brings the diagonal to one, so that millimetres, radians and pixels solve equally well. */
function scaledMatrix(
  matrix: Float64Array,
  size: number,
  damping: number,
): { scaled: Matrix; unit: Float64Array } {
  const unit = new Float64Array(size);
  for (let a = 0; a < size; a++) unit[a] = 1 / Math.sqrt(matrix[a * size + a]! || 1);
  const scaled = Matrix.zeros(size, size);
  for (let a = 0; a < size; a++) {
    for (let b = 0; b < size; b++) {
      scaled.set(a, b, matrix[a * size + b]! * (unit[a]! * unit[b]!));
    }
    scaled.set(a, a, (scaled.get(a, a) || 1) * (1 + damping));
  }
  return { scaled, unit };
}

/** The step that solves `matrix * step = right` under Marquardt's damping; null where nothing does. */
export function stepOf(
  matrix: Float64Array,
  right: Float64Array,
  damping: number,
): Float64Array | null {
  const { scaled, unit } = scaledMatrix(matrix, right.length, damping);
  const cholesky = new CholeskyDecomposition(scaled);
  if (!cholesky.isPositiveDefinite()) return null;
  const column = Matrix.columnVector(Array.from(right, (value, a) => value * unit[a]!));
  const solution = cholesky.solve(column);
  return unit.map((one, a) => solution.get(a, 0) * one);
}

/** Inverse of the matrix, row by row; `least` is added to each diagonal element, as a part of it. */
export function inverseOf(matrix: Float64Array, size: number, least: number): Float64Array {
  const { scaled, unit } = scaledMatrix(matrix, size, least);
  const inverse = new CholeskyDecomposition(scaled).solve(Matrix.eye(size));
  const out = new Float64Array(size * size);
  for (let a = 0; a < size; a++) {
    for (let b = 0; b < size; b++) out[a * size + b] = inverse.get(a, b) * unit[a]! * unit[b]!;
  }
  return out;
}
