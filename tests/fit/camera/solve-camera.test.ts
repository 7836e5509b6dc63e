import { expect, test } from 'vitest';
import { drawEstimates } from '../estimator-draws.ts';

test.each([
  { noisePx: 0.1, seed: 11 },
  { noisePx: 0.5, seed: 7 },
])(
  '$noisePx px of noise: within 1.2 of the Cramer-Rao bound, covariance calibrated',
  ({ noisePx, seed }) => {
    const result = drawEstimates({ draws: 40, noisePx, outliers: 0, seed });
    expect(result.errorMm / result.boundMm).toBeLessThan(1.2);
    // 80 degrees of freedom: three standard deviations of the mean are 0.47.
    expect(Math.abs(result.normalised - 1)).toBeLessThan(0.47);
  },
);

test.each([0.33, 0.5])('a share of %d of wrong points does not break it', (outliers) => {
  expect(drawEstimates({ draws: 20, noisePx: 0.3, outliers, seed: 3 }).breakdowns).toBe(0);
});
