import f from '@stdlib/stats-base-dists-f';
import { describe, expect, it } from 'vitest';
import { c4, ellipseOf, groupStatistics } from '../../src/groups/group-statistics.ts';
import { random } from './random.ts';

type Pair = [number, number];

// Stata's one-sample and paired Hotelling, as quoted in statsmodels' test_multivariate.py.
const STATA: Pair[] = [
  [24, 23.5], [25, 24.5], [21, 20.5], [22, 20.5], [23, 22.5], [18, 16.5], [17, 16.5], [28, 27.5],
  [24, 23.5], [27, 25.5], [21, 20.5], [23, 22.5], [20, 19], [23, 22], [21, 20], [25, 24], [18, 17],
  [17, 16], [18, 17], [24, 23], [20, 19], [24, 22], [23, 22], [19, 18],
]; // prettier-ignore

// Sweat data, first two columns (spm1d hotellings1.py, after Johnson & Wichern).
const SWEAT: Pair[] = [
  [3.7, 48.5], [5.7, 65.1], [3.8, 47.2], [3.2, 53.2], [3.1, 55.5], [4.6, 36.1], [2.4, 24.8],
  [7.2, 33.1], [6.7, 47.4], [5.4, 54.1], [3.9, 36.9], [4.5, 58.8], [3.5, 27.8], [4.5, 40.2],
  [1.5, 13.5], [8.5, 56.4], [4.5, 71.6], [6.5, 52.8], [4.1, 44.1], [5.5, 40.9],
]; // prettier-ignore

function t2OfCentre(points: Pair[], mu: Pair): number {
  const { n, meanMm, covarianceMm2 } = groupStatistics(points);
  const [[a, b], [, c]] = covarianceMm2!;
  const [x, y] = [meanMm[0] - mu[0], meanMm[1] - mu[1]];
  return (n * (c * x * x - 2 * b * x * y + a * y * y)) / (a * c - b * b);
}

describe('c4', () => {
  it.each([
    // SAS documents c4(5) = 0.939985603; the others are a printed manual table, to its 4 digits.
    [5, 0.939985603, 9],
    [2, 0.7979, 4],
    [3, 0.8862, 4],
    [4, 0.9213, 4],
    [10, 0.9727, 4],
    [20, 0.9869, 4],
  ])('of %i is %f', (n, value, digits) => {
    expect(Math.abs(c4(n) - value)).toBeLessThan(0.51 * 10 ** -digits);
  });
});

describe('groupStatistics', () => {
  it('corrects sigma for the number of arrows and gives the chi-square interval', () => {
    // Factors computed independently: 1/c4(2n-1), and sqrt(v/chi2) for v = 2(n-1).
    for (const [n, factor, low, high] of [
      [3, 1.063846, 0.599, 2.874],
      [5, 1.031661, 0.676, 1.916],
      [6, 1.025273, 0.699, 1.755],
      [10, 1.013979, 0.756, 1.479],
      [12, 1.011424, 0.773, 1.415],
      [20, 1.0066, 0.817, 1.289],
    ] as const) {
      // A regular polygon of unit radius: SS = n, whatever its turn.
      const points = Array.from({ length: n }, (_, i): Pair => {
        const angle = 0.3 + (2 * Math.PI * i) / n;
        return [5 + Math.cos(angle), Math.sin(angle) - 7];
      });
      const group = groupStatistics(points);
      const rms = Math.sqrt(n / (2 * (n - 1)));
      expect(group.sigmaMm! / rms).toBeCloseTo(factor, 5);
      expect(Math.abs(group.sigmaInterval95Mm![0] / rms - low)).toBeLessThan(0.001);
      expect(Math.abs(group.sigmaInterval95Mm![1] / rms - high)).toBeLessThan(0.001);
      expect(group.meanRadiusMm).toBeCloseTo(1, 9);
    }
  });

  it('agrees with the mean radius and extreme spread of round normal groups', () => {
    // Rayleigh mean 1.2533 sigma; extreme spread of 3 and 5 shots, 2.4095 and 3.0657 sigma
    // (own simulation of 1.5 million groups; for 2 shots exactly sqrt(pi)).
    const { normal } = random(11);
    for (const [n, spread] of [
      [2, Math.sqrt(Math.PI)],
      [3, 2.4095],
      [5, 3.0657],
    ] as const) {
      let [extreme, radius, sigma] = [0, 0, 0];
      const groups = 20_000;
      for (let i = 0; i < groups; i++) {
        const points = Array.from({ length: n }, (): Pair => [normal(), normal()]);
        const group = groupStatistics(points);
        extreme += group.extremeSpreadMm! / groups;
        radius += group.meanRadiusMm! / groups;
        sigma += group.sigmaMm! / groups;
      }
      expect(extreme).toBeCloseTo(spread, 1);
      expect(Math.abs(extreme - spread)).toBeLessThan(0.025);
      // About the group's own mean the radii shrink by sqrt((n-1)/n).
      expect(Math.abs(radius - 1.253314 * Math.sqrt((n - 1) / n))).toBeLessThan(0.015);
      expect(Math.abs(sigma - 1)).toBeLessThan(0.015);
    }
  });

  it("reproduces Stata's one-sample Hotelling from its mean and covariance", () => {
    expect(t2OfCentre(STATA, [21, 21])).toBeCloseTo(125.2791095890415, 8);
  });

  it('reproduces the by-hand case T2 = 7/9 (Johnson & Wichern ex. 5.1, from memory)', () => {
    expect(t2OfCentre([[6, 9], [10, 6], [8, 3]], [9, 5])).toBeCloseTo(7 / 9, 12); // prettier-ignore
  });

  it('gives the 95 % region of the centre of the sweat data', () => {
    const group = groupStatistics(SWEAT);
    // S as printed in an exam paper reusing the data: 2.879, 10.010, 199.788.
    expect(group.covarianceMm2![0][0]).toBeCloseTo(2.879, 3);
    expect(group.covarianceMm2![0][1]).toBeCloseTo(10.01, 3);
    expect(group.covarianceMm2![1][1]).toBeCloseTo(199.788, 3);
    // Half-axes and direction computed independently from c2 = 7.504065.
    expect(group.centreRegion95Mm!.semiAxes[0]).toBeCloseTo(8.669008, 5);
    expect(group.centreRegion95Mm!.semiAxes[1]).toBeCloseTo(0.943351, 5);
    expect(group.centreRegion95Mm!.angleDeg).toBeCloseTo(87.097, 3);
  });

  it('gives the ellipse of Johnson & Wichern ex. 5.3 (from memory)', () => {
    const c2 = ((2 * 41) / 40) * f.quantile(0.95, 2, 40);
    expect(c2).toBeCloseTo(6.62504, 4);
    const { semiAxes } = ellipseOf([[0.0144, 0.0117], [0.0117, 0.0146]], c2 / 42); // prettier-ignore
    expect(semiAxes[0]).toBeCloseTo(0.064287, 5);
    expect(semiAxes[1]).toBeCloseTo(0.021014, 5);
  });

  it('handles one and two arrows', () => {
    expect(groupStatistics([[3, 4]])).toEqual({
      n: 1,
      meanMm: [3, 4],
      sigmaMm: null,
      sigmaInterval95Mm: null,
      meanRadiusMm: null,
      extremeSpreadMm: null,
      covarianceMm2: null,
      centreRegion95Mm: null,
    });
    const two = groupStatistics([[0, 0], [6, 8]]); // prettier-ignore
    expect(two.extremeSpreadMm).toBe(10);
    expect(two.meanRadiusMm).toBe(5);
    expect(two.sigmaMm).toBeCloseTo(5 * 1.128379, 5);
    expect(two.centreRegion95Mm).toBeNull();
  });
});
