import f from '@stdlib/stats-base-dists-f';
import student from '@stdlib/stats-base-dists-t';
import { inverse, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { massAbove, radiusHolding } from '../../src/groups/bivariate-t.ts';
import { groupStatistics } from '../../src/groups/group-statistics.ts';
import { hotelling } from '../../src/groups/hotelling.ts';
import { offsetPosterior } from '../../src/groups/offset-posterior.ts';
import { scatterOf, type Scatter } from '../../src/groups/scatter.ts';
import { random } from './random.ts';

type Pair = [number, number];

/** Two-sample Hotelling for any number of variables by plain matrices: the independent route. */
function hotellingByMatrices(first: number[][], second: number[][]) {
  const [n1, n2, p] = [first.length, second.length, first[0]!.length];
  const meanOf = (rows: number[][]) =>
    Array.from({ length: p }, (_, k) => rows.reduce((sum, row) => sum + row[k]!, 0) / rows.length);
  const squaresOf = (rows: number[][]) => {
    const centred = new Matrix(rows).subRowVector(meanOf(rows));
    return centred.transpose().mmul(centred);
  };
  const pooled = squaresOf(first)
    .add(squaresOf(second))
    .div(n1 + n2 - 2);
  const [m1, m2] = [meanOf(first), meanOf(second)];
  const d = Matrix.columnVector(m1.map((x, k) => x - m2[k]!));
  const t2 = ((n1 * n2) / (n1 + n2)) * d.transpose().mmul(inverse(pooled)).mmul(d).get(0, 0);
  const df2 = n1 + n2 - p - 1;
  const ratio = (t2 * df2) / (p * (n1 + n2 - 2));
  return { t2, p: 1 - f.cdf(ratio, p, df2) };
}

describe('Hotelling against published results', () => {
  // Three variables, 20 and 18 cases: T2 = 4.116057, p = 0.291687 as published with real-statistics'
  // example (spm1d, hotellings2.py).
  const A = [
    [38.4, 36.8, 40, 39.8, 38.6, 39.1, 38.9, 36.8, 40.4, 39.4, 38, 38.6, 40.1, 38.1, 37.2, 39.5, 37.3, 39.1, 39.9, 37.8],
    [73, 85, 58, 80, 68, 52, 79, 100, 64, 53, 70, 75, 48, 57, 78, 65, 77, 67, 52, 68],
    [18, 14, 20, 20, 25, 27, 26, 8, 21, 22, 15, 14, 28, 22, 16, 18, 13, 16, 10, 13],
  ]; // prettier-ignore
  const B = [
    [40.9, 39.5, 39.4, 38.2, 39.7, 38.9, 38.6, 39.9, 41.3, 38.1, 39.6, 37.1, 39.5, 40.3, 41.5, 39.3, 37.6, 40.6],
    [54, 75, 57, 71, 65, 49, 58, 52, 62, 57, 78, 92, 63, 52, 46, 56, 86, 48],
    [14, 18, 24, 24, 22, 30, 25, 17, 18, 20, 19, 15, 13, 25, 27, 14, 16, 21],
  ]; // prettier-ignore
  const rows = (columns: number[][], count: number) =>
    columns[0]!.map((_, i) => columns.slice(0, count).map((column) => column[i]!));

  it('by way of plain matrices, which reproduce the published three-variable case', () => {
    const published = hotellingByMatrices(rows(A, 3), rows(B, 3));
    expect(published.t2).toBeCloseTo(4.116057, 6);
    expect(published.p).toBeCloseTo(0.291687, 6);
    const plane = (columns: number[][]) => scatterOf(rows(columns, 2) as Pair[]);
    const apart = hotellingByMatrices(rows(A, 2), rows(B, 2));
    const ours = hotelling(plane(A), plane(B))!;
    expect(ours.t2).toBeCloseTo(apart.t2, 9);
    expect(ours.p).toBeCloseTo(apart.p, 9);
  });

  it('agrees with plain matrices on groups of every size', () => {
    const { normal } = random(8);
    for (let i = 0; i < 200; i++) {
      const shots = (n: number): Pair[] =>
        Array.from({ length: n }, () => [normal(), 0.4 * normal() + 0.3]);
      const [a, b] = [shots(2 + (i % 5)), shots(2 + (i % 3))];
      const ours = hotelling(scatterOf(a), scatterOf(b))!;
      const apart = hotellingByMatrices(a, b);
      expect(ours.t2 / apart.t2).toBeCloseTo(1, 7);
      // F on (2, v) has its tail in closed form: no library needed.
      expect(ours.p).toBeCloseTo((1 + (2 * ours.f) / ours.df[1]) ** (-ours.df[1] / 2), 9);
    }
  });

  it("reproduces Stata's one-sample T2, which a second group of one arrow shrinks by n + 1", () => {
    // As quoted in statsmodels, test_multivariate.py: T2 = 125.2791095890415 for mu = (21, 21), and
    // 9.69806763285025 for the twelve paired differences against zero.
    const stata: Pair[] = [[24, 23.5], [25, 24.5], [21, 20.5], [22, 20.5], [23, 22.5], [18, 16.5], [17, 16.5], [28, 27.5], [24, 23.5], [27, 25.5], [21, 20.5], [23, 22.5], [20, 19], [23, 22], [21, 20], [25, 24], [18, 17], [17, 16], [18, 17], [24, 23], [20, 19], [24, 22], [23, 22], [19, 18]]; // prettier-ignore
    const one = hotelling(scatterOf(stata), scatterOf([[21, 21]]))!;
    expect(one.t2 * 25).toBeCloseTo(125.2791095890415, 7);
    const paired = Array.from({ length: 12 }, (_, i): Pair => [
      stata[i]![0] - stata[i + 12]![0],
      stata[i]![1] - stata[i + 12]![1],
    ]);
    const zero = hotelling(scatterOf(paired), scatterOf([[0, 0]]))!;
    expect(zero.t2 * 13).toBeCloseTo(9.69806763285025, 8);
  });
});

describe('interval of a spread against a published one', () => {
  // SAS UNIVARIATE, example 4.9 'Computing Confidence Limits for the Mean, Standard Deviation, and
  // Variance': 75 heights; limits of the standard deviation 1.88608 and 2.60874 (from memory).
  const HEIGHTS = [
    64.1, 60.9, 64.1, 64.7, 66.7, 65.0, 63.7, 67.4, 64.9, 63.7, 64.0, 67.5, 62.8, 63.9, 65.9, 62.3,
    64.1, 60.6, 68.6, 68.6, 63.7, 63.0, 64.7, 68.2, 66.7, 62.8, 64.0, 64.1, 62.1, 62.9, 62.7, 60.9,
    61.6, 64.6, 65.7, 66.6, 66.7, 66.0, 68.5, 64.4, 60.5, 63.0, 60.0, 61.6, 64.3, 60.2, 63.5, 64.7,
    66.0, 65.1, 63.6, 62.0, 63.6, 65.8, 66.0, 65.4, 63.5, 66.3, 66.2, 67.5, 65.8, 63.1, 65.8, 64.4,
    64.0, 64.9, 65.7, 61.0, 64.1, 65.5, 68.6, 66.6, 65.7, 65.1, 70.0,
  ];

  it('is that of 74 degrees of freedom, which 38 arrows in the plane have', () => {
    const mean = HEIGHTS.reduce((a, b) => a + b, 0) / 75;
    const squares = HEIGHTS.reduce((sum, x) => sum + (x - mean) ** 2, 0);
    // 38 arrows on a circle whose squares add up to the same.
    const radius = Math.sqrt(squares / 38);
    const circle = Array.from({ length: 38 }, (_, i): Pair => {
      const angle = (2 * Math.PI * i) / 38;
      return [radius * Math.cos(angle), radius * Math.sin(angle)];
    });
    const [low, high] = groupStatistics(circle).sigmaInterval95Mm!;
    expect(low).toBeCloseTo(1.88608, 5);
    expect(high).toBeCloseTo(2.60874, 5);
  });

  it('holds the true spread 95 times in a hundred', () => {
    const { normal } = random(64);
    for (const n of [2, 3, 6]) {
      let held = 0;
      for (let i = 0; i < 4000; i++) {
        const shots = Array.from({ length: n }, (): Pair => [3 * normal(), 3 * normal()]);
        const [low, high] = groupStatistics(shots).sigmaInterval95Mm!;
        if (low <= 3 && 3 <= high) held++;
      }
      expect(Math.abs(held / 4000 - 0.95)).toBeLessThan(0.012);
    }
  });
});

describe('t region of an offset against a published t', () => {
  it("is NIST's two-sample t of mileages, each shot on both axes", () => {
    // NIST/SEMATECH e-Handbook 1.3.5.3 (AUTO83B): n, means and standard deviations of two samples,
    // T = -12.62059 on 326 degrees of freedom. With the same values on both axes squares and degrees
    // of freedom double, so the pooled spread stays.
    const [us, japan] = [{ n: 249, mean: 20.14458, sd: 6.4147 }, { n: 79, mean: 30.48101, sd: 6.10771 }]; // prettier-ignore
    const twice = ({ n, mean, sd }: typeof us): Scatter => ({
      n,
      mean: [mean, mean],
      covariance: [[sd ** 2, sd ** 2], [sd ** 2, sd ** 2]], // prettier-ignore
      sumOfSquares: 2 * (n - 1) * sd ** 2,
    });
    const { offset } = offsetPosterior(twice(japan), twice(us), { bareSpread: { ratio: 1, logSd: 1e-6 } })!; // prettier-ignore
    expect(offset.centre[0] / offset.scale).toBeCloseTo(-12.62059, 3);
    expect(offset.df).toBeGreaterThan(640);
    expect(massAbove(offset, 0, 0)).toBeLessThan(1e-9);
  });

  it('has the radius that sampling finds', () => {
    const { normal } = random(12);
    const t = { centre: [0, 0] as const, scale: 1.7, df: 6 };
    const draws = 40_000;
    const radius = radiusHolding(t, 0.9);
    let [inside, right] = [0, 0];
    for (let i = 0; i < draws; i++) {
      let chiSquare = 0;
      for (let k = 0; k < t.df; k++) chiSquare += normal() ** 2;
      const stretch = t.scale / Math.sqrt(chiSquare / t.df);
      const [x, y] = [stretch * normal(), stretch * normal()];
      if (Math.hypot(x, y) <= radius) inside++;
      if (x > 2) right++;
    }
    expect(Math.abs(inside / draws - 0.9)).toBeLessThan(0.006);
    expect(Math.abs(right / draws - (1 - student.cdf(2 / 1.7, 6)))).toBeLessThan(0.008);
  });
});
