import { expect, test } from 'vitest';
import { adjusterScaleSchema } from '../../../src/tuning/bow/adjuster-scale.ts';

const accepts = (scale: unknown) => adjusterScaleSchema.safeParse(scale).success;

test('a part is read in numbers, on a dial, or is one of a few', () => {
  expect(accepts({ type: 'number', unit: 'mm', step: 0.5 })).toBe(true);
  expect(accepts({ type: 'dial', positionsPerLine: 10, lines: 5 })).toBe(true);
  expect(accepts({ type: 'choice', choices: ['soft', 'medium', 'stiff'] })).toBe(true);
});

test('a scale that nobody could read a setting from is refused', () => {
  expect(accepts({ type: 'number', unit: 'mm', step: 0 })).toBe(false);
  expect(accepts({ type: 'number', unit: 'mm', step: NaN })).toBe(false);
  expect(accepts({ type: 'dial', positionsPerLine: 1 })).toBe(false);
  expect(accepts({ type: 'choice', choices: ['one'] })).toBe(false);
  expect(accepts({ type: 'choice', choices: ['one', ' '] })).toBe(false);
  expect(accepts({ type: 'letters' })).toBe(false);
});
