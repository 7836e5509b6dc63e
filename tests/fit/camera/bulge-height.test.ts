import { expect, it } from 'vitest';
import {
  bulgeTermCount,
  bulgeTermDegree,
  bulgeTermsAt,
} from '../../../src/fit/camera/bulge-height.ts';

const DEGREE = 6;
const COUNT = bulgeTermCount(DEGREE);

/** Integrals over the unit disc of all products of two polynomials, exact up to degree 12. */
function products(): number[][] {
  const sums = Array.from({ length: COUNT }, () => new Array<number>(COUNT).fill(0));
  const radii = 400;
  const turns = 2 * DEGREE + 2;
  const terms = new Float64Array(COUNT);
  for (let i = 0; i < radii; i++) {
    // Evenly in area: midpoints of rho squared.
    const rho = Math.sqrt((i + 0.5) / radii);
    for (let k = 0; k < turns; k++) {
      const t = (2 * Math.PI * (k + 0.3)) / turns;
      bulgeTermsAt(rho * Math.cos(t), rho * Math.sin(t), terms);
      for (let a = 0; a < COUNT; a++) {
        for (let b = 0; b < COUNT; b++) {
          sums[a]![b]! += (Math.PI / (radii * turns)) * terms[a]! * terms[b]!;
        }
      }
    }
  }
  return sums;
}

/** Zernike's polynomials, one at the rim (Born and Wolf, Principles of Optics, 9.2, from memory). */
it('heights of paper are orthogonal over the disc, with the norms of Zernike polynomials', () => {
  products().forEach((row, a) => {
    row.forEach((value, b) => {
      const degree = bulgeTermDegree(a);
      const isEven = a === b && degree % 2 === 0 && a === bulgeTermCount(degree - 1) + degree / 2;
      const norm = a === b ? Math.PI / (degree + 1) / (isEven ? 1 : 2) : 0;
      expect(value).toBeCloseTo(norm, 3);
    });
  });
});

it('gives as many terms as are asked for, the same whatever else is', () => {
  const all = new Float64Array(COUNT);
  bulgeTermsAt(0.3, -0.6, all);
  for (let degree = 2; degree <= DEGREE; degree++) {
    const some = new Array<number>(bulgeTermCount(degree)).fill(0);
    bulgeTermsAt(0.3, -0.6, some);
    expect(some).toEqual(Array.from(all.subarray(0, some.length)));
  }
});
