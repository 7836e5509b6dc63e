import { expect, test } from 'vitest';
import { otherWidth } from '../../../src/marks/standing/shaft-width.ts';

const seen = (...mm: number[]) => mm.map((width) => ({ mm: width, weight: 1 }));

test('a width that the arrows agree on speaks against the one told', () => {
  expect(otherWidth(seen(9.1, 9.4, 9.3, 8.9), 5.5)).toBeCloseTo(9.1, 0);
  expect(otherWidth(seen(4, 4.1, 3.9, 4.2, 8), 9.3)).toBeCloseTo(4, 0);
});

test('the width told stands where the photo shows about that, or too little', () => {
  expect(otherWidth(seen(5.1, 6.2, 5.6), 5.5)).toBeNull();
  expect(otherWidth([], 5.5)).toBeNull();
  // Arrows that cover one another look like one that is twice as wide.
  expect(otherWidth(seen(5.4, 11, 11.5, 5.8), 5.5)).toBeNull();
});
