import { expect, test } from 'vitest';
import { stepDown } from '../../src/trends/step-down.ts';

test('the worked example of four hypotheses in the encyclopaedia article on the method', () => {
  // "Holm-Bonferroni method", example: p of 0.01, 0.04, 0.03 and 0.005 at 0.05 reject the first and the
  // fourth; adjusted 0.03, 0.06, 0.06 and 0.02 (from memory, and by hand).
  const { rejected, adjusted } = stepDown(4, () => [0.01, 0.04, 0.03, 0.005], { level: 0.05 });
  expect([...rejected].sort()).toEqual([0, 3]);
  [0.03, 0.06, 0.06, 0.02].forEach((p, i) => expect(adjusted[i]).toBeCloseTo(p, 12));
});

test('one that may not be rejected stops no other', () => {
  const { rejected } = stepDown(3, () => [0.001, 0.002, 0.9], {
    level: 0.05,
    mayReject: (next) => next !== 0,
  });
  expect([...rejected]).toEqual([1]);
});

test('what was rejected no longer counts for what the others are held against', () => {
  const { rejected } = stepDown(
    3,
    (apart) => (apart.has(0) ? [0.001, 0.8, 0.9] : [0.001, 0.01, 0.9]),
    { level: 0.05 },
  );
  expect([...rejected]).toEqual([0]);
});
