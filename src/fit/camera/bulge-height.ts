import { FACES, outerRadiusMm, type FaceId } from '../../face/faces.ts';

/**
 * Paper is not flat: it bulges between its pins. Its height over the mean plane is a sum of Zernike
 * polynomials over the disc that holds the whole face, from degree 2 on, because heights of degree
 * 0 and 1 are a move of the plane itself. Beyond the disc the height keeps its value at the rim.
 */

/** Degree of each term, those of one degree by their turns from -degree on in steps of two. */
const DEGREES = [2, 3, 4, 5, 6].flatMap((degree) => new Array<number>(degree + 1).fill(degree));

/** Number of terms up to and with a degree: 3, 7, 12, 18, 25 for degrees 2 to 6. */
export function bulgeTermCount(degree: number): number {
  return DEGREES.filter((one) => one <= degree).length;
}

/** Degree of the term at an index. */
export function bulgeTermDegree(index: number): number {
  return DEGREES[index]!;
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

/**
 * Values of all polynomials up to a degree at a point given in units of the disc's radius (Zernike's
 * radial ones without their rho^m, Born and Wolf, Principles of Optics, table 9.1, from memory).
 *
 * @param out As long as `bulgeTermCount` says for the degree, at least 2.
 */
export function bulgeTermsAt(u: number, v: number, out: Float64Array | number[]): void {
  // Most points lie clearly within the disc: their exact distance is not asked for.
  const rho = u * u + v * v < WITHIN ? 1 : Math.hypot(u, v);
  const shrink = rho > 1 ? 1 / rho : 1;
  const x = u * shrink;
  const y = v * shrink;
  const rho2 = x * x + y * y;
  // rho^m cos(m t) and rho^m sin(m t) are the parts of (x + iy)^m. Written out term by term, since
  // points are asked for by the hundred thousand.
  const cos2 = x * x - y * y;
  const sin2 = x * y + y * x;
  out[0] = sin2;
  out[1] = 2 * rho2 - 1;
  out[2] = cos2;
  if (out.length <= 3) return;
  const cos3 = cos2 * x - sin2 * y;
  const sin3 = cos2 * y + sin2 * x;
  const r31 = 3 * rho2 - 2;
  out[3] = sin3;
  out[4] = r31 * y;
  out[5] = r31 * x;
  out[6] = cos3;
  if (out.length <= 7) return;
  const cos4 = cos3 * x - sin3 * y;
  const sin4 = cos3 * y + sin3 * x;
  const r42 = 4 * rho2 - 3;
  out[7] = sin4;
  out[8] = r42 * sin2;
  out[9] = (6 * rho2 - 6) * rho2 + 1;
  out[10] = r42 * cos2;
  out[11] = cos4;
  if (out.length <= 12) return;
  const cos5 = cos4 * x - sin4 * y;
  const sin5 = cos4 * y + sin4 * x;
  const r53 = 5 * rho2 - 4;
  const r51 = (10 * rho2 - 12) * rho2 + 3;
  out[12] = sin5;
  out[13] = r53 * sin3;
  out[14] = r51 * y;
  out[15] = r51 * x;
  out[16] = r53 * cos3;
  out[17] = cos5;
  if (out.length <= 18) return;
  const cos6 = cos5 * x - sin5 * y;
  const sin6 = cos5 * y + sin5 * x;
  const r64 = 6 * rho2 - 5;
  const r62 = (15 * rho2 - 20) * rho2 + 6;
  out[18] = sin6;
  out[19] = r64 * sin4;
  out[20] = r62 * sin2;
  out[21] = ((20 * rho2 - 30) * rho2 + 12) * rho2 - 1;
  out[22] = r62 * cos2;
  out[23] = r64 * cos4;
  out[24] = cos6;
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
