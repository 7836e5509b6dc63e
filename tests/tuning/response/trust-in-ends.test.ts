import { describe, expect, test } from 'vitest';
import { trustInEnds } from '../../../src/tuning/response/trust-in-ends.ts';

/** A level that hardly anything is known of beforehand, seen by ends of noise 1. */
function trusted(y: readonly number[], sessionOf = y.map(() => 'one'), sessionSd = 1e-4): number[] {
  return trustInEnds(
    y.map(() => [1]),
    y,
    { precisions: y.map(() => 1), sessionOf, sessionSd, priorSds: [1e4] },
  );
}

/*
 * By hand: n - 1 others of noise 1 foretell an end to be their mean, with variance 1 + 1 / (n - 1). An
 * end that is k standard deviations off, k above 2.5, weighs (2.5 / k)^2: Huber's weights for variances
 * (P. J. Huber, Robust Statistics, 1981, from memory).
 */
describe('an end among others', () => {
  test('counts in full within two and a half standard deviations of what they foretell', () => {
    // 2.7 over the root of 1.25 is 2.41.
    expect(trusted([0, 0, 0, 0, 2.7])).toEqual([1, 1, 1, 1, 1]);
  });

  test('counts less beyond, by the square of how far it is out', () => {
    // 10 over the root of 1.25: k squared is 80.
    const trust = trusted([0, 0, 0, 0, 10]);
    expect(trust.slice(0, 4)).toEqual([1, 1, 1, 1]);
    expect(trust[4]).toBeCloseTo(6.25 / 80, 3);
  });

  test('is not blamed for a day that differed from the others as a whole', () => {
    const y = [0, 0, 0, 10, 10];
    const days = ['may', 'may', 'may', 'june', 'june'];
    expect(trusted(y, days, 10)).toEqual([1, 1, 1, 1, 1]);
    expect(Math.min(...trusted(y))).toBeLessThan(1);
  });

  test('is not blamed for what the model explains', () => {
    const rows = [0, 1, 2, 3, 4].map((x) => [1, x]);
    const given = {
      precisions: rows.map(() => 1),
      sessionOf: rows.map(() => 'one'),
      sessionSd: 1e-4,
      priorSds: [1e4, 1e4],
    };
    expect(trustInEnds(rows, [0, 10, 20, 30, 40], given)).toEqual([1, 1, 1, 1, 1]);
  });
});
