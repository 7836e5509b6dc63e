import { EigenvalueDecomposition, Matrix, inverse } from 'ml-matrix';

/** Symmetric 3 x 3 matrix, row-major: points p = (x, y, 1) with p' Q p = 0 lie on the conic. */
export type Conic = readonly number[];

export interface Ellipse {
  readonly centre: readonly [number, number];
  /** Half axes, longer first. */
  readonly semiAxes: readonly [number, number];
  /** Direction of the longer axis, radians from x towards y. */
  readonly angle: number;
}

/** Solves a small dense system in place by elimination with pivots; null when it is singular. */
function solveSmall(a: number[][], b: number[]): number[] | null {
  const n = b.length;
  for (let column = 0; column < n; column++) {
    let pivot = column;
    for (let row = column + 1; row < n; row++) {
      if (Math.abs(a[row]![column]!) > Math.abs(a[pivot]![column]!)) pivot = row;
    }
    if (Math.abs(a[pivot]![column]!) < 1e-14) return null;
    [a[column], a[pivot]] = [a[pivot]!, a[column]!];
    [b[column], b[pivot]] = [b[pivot]!, b[column]!];
    for (let row = column + 1; row < n; row++) {
      const factor = a[row]![column]! / a[column]![column]!;
      for (let k = column; k < n; k++) a[row]![k]! -= factor * a[column]![k]!;
      b[row]! -= factor * b[column]!;
    }
  }
  for (let row = n - 1; row >= 0; row--) {
    for (let k = row + 1; k < n; k++) b[row]! -= a[row]![k]! * b[k]!;
    b[row]! /= a[row]![row]!;
  }
  return b;
}

/**
 * Least-squares conic through five or more points around `inside`, a point within it. Algebraic:
 * a start for a geometric fit, not a measurement. Null when the points do not make an ellipse.
 */
export function conicThrough(
  points: readonly (readonly [number, number])[],
  inside: readonly [number, number],
): Conic | null {
  if (points.length < 5) return null;
  let unit = 0;
  for (const [x, y] of points) unit += Math.hypot(x - inside[0], y - inside[1]);
  unit /= points.length;
  if (!(unit > 0)) return null;
  // Sums of x^i y^j over the points, i and j in the names.
  let [s40, s31, s22, s13, s04] = [0, 0, 0, 0, 0];
  let [s30, s21, s12, s03] = [0, 0, 0, 0];
  let [s20, s11, s02, s10, s01] = [0, 0, 0, 0, 0];
  for (const [px, py] of points) {
    const x = (px - inside[0]) / unit;
    const y = (py - inside[1]) / unit;
    const xx = x * x;
    const xy = x * y;
    const yy = y * y;
    s40 += xx * xx;
    s31 += xx * xy;
    s22 += xx * yy;
    s13 += xy * yy;
    s04 += yy * yy;
    s30 += xx * x;
    s21 += xx * y;
    s12 += x * yy;
    s03 += yy * y;
    s20 += xx;
    s11 += xy;
    s02 += yy;
    s10 += x;
    s01 += y;
  }
  const solution = solveSmall(
    [
      [s40, s31, s22, s30, s21],
      [s31, s22, s13, s21, s12],
      [s22, s13, s04, s12, s03],
      [s30, s21, s12, s20, s11],
      [s21, s12, s03, s11, s02],
    ],
    [s20, s11, s02, s10, s01],
  );
  if (!solution) return null;
  const [a, b, c, d, e] = solution as [number, number, number, number, number];
  if (4 * a * c - b * b <= 0 || a + c <= 0) return null;
  return movedConic([a, b, c, d, e], inside, unit);
}

/** The conic of points `to + unit * (x, y)` with a x^2 + b x y + c y^2 + d x + e y = 1. */
function movedConic(
  [a, b, c, d, e]: readonly [number, number, number, number, number],
  [x, y]: readonly [number, number],
  unit: number,
): Conic {
  const xx = a / unit ** 2;
  const xy = b / 2 / unit ** 2;
  const yy = c / unit ** 2;
  const xw = d / 2 / unit - xx * x - xy * y;
  const yw = e / 2 / unit - xy * x - yy * y;
  const ww = -1 - (d / unit) * x - (e / unit) * y + xx * x * x + 2 * xy * x * y + yy * y * y;
  return [xx, xy, xw, xy, yy, yw, xw, yw, ww];
}

/** Centre, half axes and direction; null when the conic is not an ellipse. */
export function ellipseOf(conic: Conic): Ellipse | null {
  const [a, b, d, , c, e, , , f] = conic as [
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
  const determinant = a * c - b * b;
  if (determinant <= 0) return null;
  const x = (b * e - c * d) / determinant;
  const y = (b * d - a * e) / determinant;
  const level = -(f + d * x + e * y);
  const mean = (a + c) / 2;
  const spread = Math.hypot((a - c) / 2, b);
  const small = (mean - spread) / level;
  const large = (mean + spread) / level;
  if (!(small > 0 && large > 0)) return null;
  return {
    centre: [x, y],
    semiAxes: [1 / Math.sqrt(small), 1 / Math.sqrt(large)],
    angle: Math.atan2(2 * b, a - c) / 2 + Math.PI / 2,
  };
}

/** Distance from `from`, within the ellipse, to the conic in direction (dx, dy). */
export function reachOf(
  conic: Conic,
  from: readonly [number, number],
  direction: readonly [number, number],
): number {
  const [x, y] = from;
  const [dx, dy] = direction;
  const q = conic;
  const a = q[0]! * dx * dx + 2 * q[1]! * dx * dy + q[4]! * dy * dy;
  const b = dx * (q[0]! * x + q[1]! * y + q[2]!) + dy * (q[3]! * x + q[4]! * y + q[5]!);
  const c =
    q[0]! * x * x + 2 * q[1]! * x * y + q[4]! * y * y + 2 * q[2]! * x + 2 * q[5]! * y + q[8]!;
  const root = b * b - a * c;
  return root < 0 ? NaN : (-b + Math.sqrt(root)) / a;
}

export interface Pencil {
  /** Image of the circles' common centre. */
  readonly centre: readonly [number, number];
  /** Image of the plane's line at infinity: a x + b y + c = 0. */
  readonly vanishingLine: readonly [number, number, number];
  /** Eigenvalues of Q1^-1 Q2 over their double one: 1, 1 and (r2 / r1)^2 for perfect conics. */
  readonly eigenvalues: readonly [number, number, number];
}

/**
 * Centre and vanishing line from the images of two concentric circles: the simple eigenvector of
 * Q1^-1 Q2 is the imaged centre, and the polar line of the centre with regard to either conic is
 * the vanishing line (a circle's centre is the pole of the line at infinity).
 */
export function pencilOf(inner: Conic, outer: Conic): Pencil | null {
  const matrix = (q: Conic): Matrix =>
    new Matrix([[...q.slice(0, 3)], [...q.slice(3, 6)], [...q.slice(6, 9)]]);
  // Points in units near 1, or the eigenvectors lose their digits.
  const shape = ellipseOf(outer);
  if (!shape) return null;
  const unit = shape.semiAxes[0];
  const back = new Matrix([
    [unit, 0, shape.centre[0]],
    [0, unit, shape.centre[1]],
    [0, 0, 1],
  ]);
  const local = (q: Conic): Matrix => back.transpose().mmul(matrix(q)).mmul(back);
  const q1 = local(inner);
  const q2 = local(outer);
  const eigen = new EigenvalueDecomposition(inverse(q1).mmul(q2));
  const values = eigen.realEigenvalues;
  let simple = 0;
  let widest = -1;
  for (let i = 0; i < 3; i++) {
    const [a, b] = [values[(i + 1) % 3]!, values[(i + 2) % 3]!];
    // The simple eigenvalue is the one farthest, in ratio, from the mean of the others.
    const apart = Math.abs(Math.log(Math.abs(values[i]! / ((a + b) / 2))));
    if (apart > widest) {
      widest = apart;
      simple = i;
    }
  }
  const vector = [0, 1, 2].map((row) => eigen.eigenvectorMatrix.get(row, simple));
  if (Math.abs(vector[2]!) < 1e-9) return null;
  const centre = [vector[0]! / vector[2]!, vector[1]! / vector[2]!] as const;
  const polar = q2.mmul(Matrix.columnVector([centre[0], centre[1], 1])).to1DArray();
  const line = inverse(back).transpose().mmul(Matrix.columnVector(polar)).to1DArray();
  const double = (values[(simple + 1) % 3]! + values[(simple + 2) % 3]!) / 2;
  return {
    centre: [centre[0] * unit + shape.centre[0], centre[1] * unit + shape.centre[1]],
    vanishingLine: [line[0]!, line[1]!, line[2]!],
    eigenvalues: [
      values[simple]! / double,
      values[(simple + 1) % 3]! / double,
      values[(simple + 2) % 3]! / double,
    ],
  };
}
