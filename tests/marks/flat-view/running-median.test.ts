import { expect, test } from 'vitest';
import { runningMedian } from '../../../src/marks/flat-view/running-median.ts';

function medians(values: number[], reach: number, known = values.map(() => 1)): number[] {
  const out = new Uint8Array(values.length);
  runningMedian(Uint8Array.from(values), Uint8Array.from(known), values.length, reach, out);
  return [...out];
}

test('takes the median over a closed ring', () => {
  expect(medians([9, 1, 2, 3, 4], 1)).toEqual([4, 2, 2, 3, 4]);
});

test('keeps a step and removes what is narrower than half the window', () => {
  const step = [10, 10, 10, 10, 10, 10, 90, 90, 90, 90, 90, 90];
  expect(medians(step, 1)).toEqual(step);
  expect(medians([10, 10, 10, 200, 10, 10, 10], 2)).toEqual([10, 10, 10, 10, 10, 10, 10]);
});

test('leaves out what is not known', () => {
  expect(medians([5, 250, 5, 250, 5, 250, 5], 1, [1, 0, 1, 0, 1, 0, 1])).toEqual([
    5, 5, 5, 5, 5, 5, 5,
  ]);
});

test('agrees with sorting on any ring', () => {
  const values = Array.from({ length: 40 }, (_, i) => (i * 73 + ((i * i) % 17) * 11) % 256);
  const reach = 4;
  const sorted = values.map((_, i) => {
    const window = Array.from(
      { length: 2 * reach + 1 },
      (_, k) => values[(i + k - reach + values.length) % values.length]!,
    ).sort((a, b) => a - b);
    return window[reach]!;
  });
  expect(medians(values, reach)).toEqual(sorted);
});
