import { expect, test } from 'vitest';
import { nthSmallest } from '../../../src/marks/hand-made/nth-smallest.ts';

test.each([1, 2, 9, 200])('it is the value at that place of %d sorted ones', (count) => {
  // Some values are alike, and what lies beyond the count is smaller than all.
  const values = Float32Array.from({ length: count + 3 }, (_, i) =>
    i < count ? (i * 7919) % 61 : -1,
  );
  const sorted = values.slice(0, count).sort();
  sorted.forEach((value, n) => expect(nthSmallest(values, count, n)).toBe(value));
});
