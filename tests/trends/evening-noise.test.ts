import { expect, test } from 'vitest';
import { logBias, logVariance } from '../../src/trends/evening-noise.ts';

// Digamma and trigamma at whole numbers: Abramowitz and Stegun 6.3.2 and 6.4.3.
const EULER = 0.5772156649015329;
const digamma = (n: number): number =>
  Array.from({ length: n - 1 }, (_, k) => 1 / (k + 1)).reduce((sum, one) => sum + one, -EULER);
const trigamma = (n: number): number =>
  Array.from({ length: n - 1 }, (_, k) => (k + 1) ** -2).reduce((sum, one) => sum - one, Math.PI ** 2 / 6); // prettier-ignore

test.each([1, 2, 3, 6, 20])(
  'the log of a spread on twice %i degrees of freedom has its known mean and variance',
  (half) => {
    expect(Math.abs(logBias(2 * half) - (digamma(half) - Math.log(half)) / 2)).toBeLessThan(0.01);
    const exact = trigamma(half) / 4;
    expect(Math.abs(logVariance(2 * half) / exact - 1)).toBeLessThan(0.02);
  },
);
