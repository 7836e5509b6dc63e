import { describe, expect, test } from 'vitest';
import { lineMixture } from '../../src/trends/line-mixture.ts';
import { lineSums } from '../../src/tuning/response/gaussian-line.ts';

/** One observation of a level, with noise of this variance. */
const seen = (y: number, variance: number) =>
  lineSums({ rows: [[1]], y: [y], precisions: [1 / variance] }, [[0]], {
    blockVariance: 0,
    size: 1,
  });

/*
 * By hand, by Bayes' theorem for a normal law of known variance (any textbook): a level of N(0, 1) seen
 * as 2 with noise of variance v is afterwards N(2 / (1 + v), v / (1 + v)), and N(2; 0, 1 + v) foretold it.
 */
describe('noise that is one of two', () => {
  const mixture = lineMixture(
    [{ expected: [{ mean: 0, sd: 1 }], log: 0 }],
    [
      { sums: seen(2, 1), log: 0 },
      { sums: seen(2, 3), log: 0 },
    ],
  );

  test('is weighed by what each foretold', () => {
    // N(2; 0, 4) over N(2; 0, 2): the root of a half times e to 1/2.
    const odds = Math.SQRT1_2 * Math.exp(0.5);
    expect(mixture.shares[0]).toBeCloseTo(1 / (1 + odds), 12);
    expect(mixture.shares[1]).toBeCloseTo(odds / (1 + odds), 12);
  });

  test('leaves a level that is a mixture of both laws', () => {
    const [{ parts } = { parts: [] }] = mixture.laws;
    expect(parts.map(({ weight }) => weight)).toEqual(mixture.shares);
    expect(parts.map(({ law }) => law.mean)).toEqual([expect.closeTo(1), expect.closeTo(0.5)]);
    expect(parts.map(({ law }) => law.scale ** 2)).toEqual([
      expect.closeTo(1 / 2),
      expect.closeTo(3 / 4),
    ]);
    expect(parts.every(({ law }) => law.df === Infinity)).toBe(true);
  });

  test('is believed beforehand as it is said, and what is hardly possible is no part of the law', () => {
    const { laws, shares } = lineMixture(
      [{ expected: [{ mean: 0, sd: 1 }], log: 0 }],
      [
        { sums: seen(2, 1), log: -20 },
        { sums: seen(2, 1), log: 0 },
      ],
    );
    expect(shares[0]).toBeCloseTo(Math.exp(-20), 12);
    expect(shares[0]! + shares[1]!).toBeCloseTo(1, 12);
    expect(laws[0]!.parts).toHaveLength(1);
    expect(laws[0]!.parts[0]!.weight).toBe(1);
  });

  test('starts from the mean that is expected', () => {
    const { laws } = lineMixture(
      [{ expected: [{ mean: 4, sd: 1 }], log: 0 }],
      [{ sums: seen(2, 1), log: 0 }],
    );
    expect(laws[0]!.parts[0]!.law.mean).toBeCloseTo(3, 12);
  });

  test('is judged under every way that the level may be expected', () => {
    const { laws, shares } = lineMixture(
      [1, 3].map((sd) => ({ expected: [{ mean: 0, sd }], log: 0 })),
      [{ sums: seen(2, 1), log: 0 }],
    );
    // N(2; 0, 10) over N(2; 0, 2): the root of a fifth times e to 4/5.
    const odds = Math.sqrt(1 / 5) * Math.exp(0.8);
    expect(shares).toEqual([expect.closeTo(1)]);
    expect(laws[0]!.parts.map(({ weight }) => weight)).toEqual([
      expect.closeTo(1 / (1 + odds)),
      expect.closeTo(odds / (1 + odds)),
    ]);
    expect(laws[0]!.parts.map(({ law }) => law.mean)).toEqual([
      expect.closeTo(1),
      expect.closeTo(1.8),
    ]);
  });
});
