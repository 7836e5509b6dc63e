import { expect, test } from 'vitest';
import { likeliestOf } from '../../../src/marks/candidates/likeliest-of.ts';

const at = (place: number, probability: number) => ({ place, probability });

test('the likelier of two stays, and what is ruled out rules nothing out', () => {
  const all = [at(0, 0.5), at(1, 0.9), at(2, 0.7), at(3, 0.6)];
  const near = likeliestOf(all, (one, by) => Math.abs(one.place - by.place) <= 1);
  expect(near.map(({ place }) => place)).toEqual([1, 3]);
});
