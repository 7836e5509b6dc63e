import { FACES, outerRadiusMm, type FaceId } from '../../face/faces.ts';

/**
 * Paper is not flat: it bulges between its pins. Its height over the mean plane is a sum of Zernike
 * polynomials over the disc that holds the whole face, from degree 2 on, because heights of degree
 * 0 and 1 are a move of the plane itself. Beyond the disc the height keeps its value at the rim.
 */

interface Term {
  readonly degree: number;
  readonly m: number;
  /** Coefficients of rho^(2j) in R_n^m(rho) / rho^m, from j = 0 on. */
  readonly radial: readonly number[];
}

const MAX_DEGREE = 6;

function factorial(n: number): number {
  let product = 1;
  for (let i = 2; i <= n; i++) product *= i;
  return product;
}

function radialCoefficients(n: number, m: number): number[] {
  const half = (n - m) / 2;
  const coefficients = new Array<number>(half + 1).fill(0);
  for (let k = 0; k <= half; k++) {
    const sign = k % 2 === 0 ? 1 : -1;
    coefficients[half - k] =
      (sign * factorial(n - k)) /
      (factorial(k) * factorial((n + m) / 2 - k) * factorial((n - m) / 2 - k));
  }
  return coefficients;
}

const TERMS: readonly Term[] = (() => {
  const terms: Term[] = [];
  for (let degree = 2; degree <= MAX_DEGREE; degree++) {
    for (let m = -degree; m <= degree; m += 2) {
      terms.push({ degree, m, radial: radialCoefficients(degree, Math.abs(m)) });
    }
  }
  return terms;
})();

/** Number of terms up to and with a degree: 3, 7, 12, 18, 25 for degrees 2 to 6. */
export function bulgeTermCount(degree: number): number {
  return TERMS.filter((term) => term.degree <= degree).length;
}

/** Degree of the term at an index. */
export function bulgeTermDegree(index: number): number {
  return TERMS[index]!.degree;
}

const RADII_MM = new Map(
  Object.values(FACES).map((face) => {
    const reach = Math.max(...face.spotCentresMm.map(([x, y]) => Math.hypot(x, y)));
    return [face.id, reach + outerRadiusMm(face)];
  }),
);

/** Radius of the disc over which the height is described, mm. */
export function bulgeRadiusMm(face: FaceId): number {
  return RADII_MM.get(face)!;
}

/** Points with a smaller square of their distance lie within the disc, whatever is rounded. */
const WITHIN = 1 - 1e-9;

/** Values of the first `out.length` polynomials at a point given in units of the disc's radius. */
export function bulgeTermsAt(u: number, v: number, out: Float64Array | number[]): void {
  // Most points lie clearly within the disc: their exact distance is not asked for.
  const rho = u * u + v * v < WITHIN ? 1 : Math.hypot(u, v);
  const shrink = rho > 1 ? 1 / rho : 1;
  const x = u * shrink;
  const y = v * shrink;
  const rho2 = x * x + y * y;
  for (let i = 0; i < out.length; i++) {
    const { m, radial } = TERMS[i]!;
    let value = 0;
    for (let j = radial.length - 1; j >= 0; j--) value = value * rho2 + radial[j]!;
    // rho^m cos(m t) and rho^m sin(m t) are the parts of (x + iy)^m.
    let re = 1;
    let im = 0;
    for (let k = Math.abs(m); k > 0; k--) {
      const next = re * x - im * y;
      im = re * y + im * x;
      re = next;
    }
    out[i] = value * (m < 0 ? im : re);
  }
}

/** Height of the paper over its mean plane at a point of the sheet, mm towards the archer. */
export function bulgeHeight(face: FaceId, bulge: readonly number[], x: number, y: number): number {
  if (bulge.length === 0) return 0;
  const radius = bulgeRadiusMm(face);
  const terms = new Array<number>(bulge.length);
  bulgeTermsAt(x / radius, y / radius, terms);
  let height = 0;
  for (let i = 0; i < bulge.length; i++) height += bulge[i]! * terms[i]!;
  return height;
}
