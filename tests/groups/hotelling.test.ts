import { describe, expect, it } from 'vitest';
import { hotelling } from '../../src/groups/hotelling.ts';
import { scatterOf, type Scatter } from '../../src/groups/scatter.ts';
import { random } from './random.ts';

type Pair = [number, number];

describe('hotelling', () => {
  it('agrees with an independent computation on the data of a published test', () => {
    // Body of data: spm1d hotellings2.py, first two columns; bivariate figures computed apart.
    const a1 = [
      38.4, 36.8, 40, 39.8, 38.6, 39.1, 38.9, 36.8, 40.4, 39.4, 38, 38.6, 40.1, 38.1, 37.2, 39.5,
      37.3, 39.1, 39.9, 37.8,
    ];
    const a2 = [73, 85, 58, 80, 68, 52, 79, 100, 64, 53, 70, 75, 48, 57, 78, 65, 77, 67, 52, 68];
    const b1 = [
      40.9, 39.5, 39.4, 38.2, 39.7, 38.9, 38.6, 39.9, 41.3, 38.1, 39.6, 37.1, 39.5, 40.3, 41.5,
      39.3, 37.6, 40.6,
    ];
    const b2 = [54, 75, 57, 71, 65, 49, 58, 52, 62, 57, 78, 92, 63, 52, 46, 56, 86, 48];
    const result = hotelling(
      scatterOf(a1.map((x, i): Pair => [x, a2[i]!])),
      scatterOf(b1.map((x, i): Pair => [x, b2[i]!])),
    )!;
    expect(result.t2).toBeCloseTo(3.967700704, 8);
    expect(result.f).toBeCloseTo(1.928743398, 8);
    expect(result.df).toEqual([2, 35]);
    expect(result.p).toBeCloseTo(0.160466132, 8);
  });

  it("agrees with an independent computation on Stata's data, split in two", () => {
    const first: Pair[] = [[24, 23.5], [25, 24.5], [21, 20.5], [22, 20.5], [23, 22.5], [18, 16.5], [17, 16.5], [28, 27.5], [24, 23.5], [27, 25.5], [21, 20.5], [23, 22.5]]; // prettier-ignore
    const second: Pair[] = [[20, 19], [23, 22], [21, 20], [25, 24], [18, 17], [17, 16], [18, 17], [24, 23], [20, 19], [24, 22], [23, 22], [19, 18]]; // prettier-ignore
    const result = hotelling(scatterOf(first), scatterOf(second))!;
    expect(result.t2).toBeCloseTo(7.134758395, 8);
    expect(result.f).toBeCloseTo(3.405225598, 8);
    expect(result.df).toEqual([2, 21]);
    expect(result.p).toBeCloseTo(0.0523742996, 9);
  });

  it('pools the textbook summary of electricity use (Johnson & Wichern ch. 6)', () => {
    // n and covariances from memory, means seen in an exam paper; T2, F, p computed apart.
    const one: Scatter = { n: 45, mean: [204.4, 556.6], covariance: [[13825.3, 23823.4], [23823.4, 73107.4]], sumOfSquares: NaN }; // prettier-ignore
    const two: Scatter = { n: 55, mean: [130, 355], covariance: [[8632, 19616.7], [19616.7, 55964.5]], sumOfSquares: NaN }; // prettier-ignore
    const result = hotelling(one, two)!;
    expect(result.t2).toBeCloseTo(16.0662, 4);
    expect(result.f).toBeCloseTo(7.95114, 5);
    expect(result.p).toBeCloseTo(6.344e-4, 7);
  });

  it('has the power of the non-central F at small counts', () => {
    // Offsets in spreads that are found half the time at the 5 % level (non-central F, computed).
    const { normal } = random(5);
    const shots = (n: number, x: number) =>
      scatterOf(Array.from({ length: n }, (): Pair => [normal() + x, normal()]));
    for (const [bare, fletched, offset] of [
      [3, 3, 3.09],
      [3, 6, 2.04],
      [6, 6, 1.52],
    ] as const) {
      let found = 0;
      const ends = 6000;
      for (let i = 0; i < ends; i++) {
        if (hotelling(shots(fletched, 0), shots(bare, offset))!.p < 0.05) found++;
      }
      expect(Math.abs(found / ends - 0.5)).toBeLessThan(0.025);
    }
  });

  it('is null where degrees of freedom run out or all lies on a line', () => {
    const one = scatterOf([[1, 2]]);
    const two = scatterOf([[0, 0], [1, 1]]); // prettier-ignore
    expect(hotelling(one, one)).toBeNull();
    expect(hotelling(two, one)).toBeNull();
    expect(hotelling(two, scatterOf([[5, 5], [7, 7]]))).toBeNull(); // prettier-ignore
    expect(hotelling(two, scatterOf([[5, 5], [7, 6]]))!.df).toEqual([2, 1]); // prettier-ignore
  });
});
