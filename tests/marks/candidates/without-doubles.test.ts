import { expect, it } from 'vitest';
import { isSamePlace, withoutDoubles } from '../../../src/marks/candidates/without-doubles.ts';

const place = (x: number, probability: number, spot = 0) => ({
  spot,
  mm: [x, 0] as const,
  sdMm: 0.3,
  probability,
});

it('keeps the likeliest of places that are one hole, and both of two that only touch', () => {
  const kept = withoutDoubles([place(0, 0.5), place(1, 0.9), place(6.5, 0.7)], 5.5);
  expect(kept.map(({ mm }) => mm[0])).toEqual([1, 6.5]);
});

it('measures in shafts: what is one hole of a thick shaft may be two of a thin one', () => {
  expect(isSamePlace(place(0, 1), place(3, 1), 9.3)).toBe(true);
  expect(isSamePlace(place(0, 1), place(3, 1), 4)).toBe(false);
});

it('never takes places of two spots for one', () => {
  expect(withoutDoubles([place(0, 0.9, 0), place(0, 0.8, 1)], 5.5)).toHaveLength(2);
});
