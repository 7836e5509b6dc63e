import { expect, test } from 'vitest';
import { drawEstimates } from './estimator-draws.ts';

test('half a pixel of noise: within 1.2 of the Cramer-Rao bound, covariance calibrated', () => {
  const result = drawEstimates({ draws: 40, noisePx: 0.5, outliers: 0, seed: 7 });
  expect(result.errorMm / result.boundMm).toBeLessThan(1.2);
  // 80 degrees of freedom: three standard deviations of the mean are 0.47.
  expect(Math.abs(result.normalised - 1)).toBeLessThan(0.47);
});

test('a third of wrong points does not break it', () => {
  expect(drawEstimates({ draws: 20, noisePx: 0.3, outliers: 0.33, seed: 3 }).breakdowns).toBe(0);
});
