import { expect, test } from 'vitest';
import { placesToLookAt } from '../../src/reading/places-to-look-at.ts';
import type { Reading } from '../../src/reading/reading.ts';

const SHAFT_MM = 6;
const place = (x: number, probability: number, spot = 0): Reading['uncounted'][number] => ({
  spot,
  mm: [x, 0],
  px: [x, 0],
  sdMm: 1,
  probability,
});
const at = (uncounted: Reading['uncounted'], marks: Parameters<typeof placesToLookAt>[1] = []) =>
  placesToLookAt({ uncounted }, marks, SHAFT_MM).map(({ mm }) => mm[0]);

test('the likeliest is looked at first, what is hardly there not at all', () => {
  expect(at([place(1, 0.2), place(2, 0.14), place(3, 0.4), place(4, 0.15)])).toEqual([3, 1, 4]);
});

test('where a mark lies by now nothing is left to look at: half a shaft about it, on its spot', () => {
  const places = [place(0, 0.4), place(2.9, 0.3), place(3, 0.2), place(0, 0.35, 1)];
  expect(at(places, [{ spot: 0, mm: [0, 0] }])).toEqual([0, 3]);
  expect(at(places, [{ spot: 1, mm: [0, 0] }])).toEqual([0, 2.9, 3]);
});

test('of a face full of chaff a dozen are shown, and no others move up as marks are put there', () => {
  const places = Array.from({ length: 20 }, (_, i) => place(10 * i, 0.5 - i / 100));
  expect(at(places)).toEqual(Array.from({ length: 12 }, (_, i) => 10 * i));
  expect(at(places, [{ spot: 0, mm: [50, 0] }])).toHaveLength(11);
});
