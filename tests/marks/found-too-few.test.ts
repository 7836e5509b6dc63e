import { expect, test } from 'vitest';
import { foundTooFew } from '../../src/marks/found-too-few.ts';

test.each([
  [1, 0, 'plain', '1 arrow shot, 0 found: one may be hidden or have missed the face.'],
  [6, 5, 'plain', '6 arrows shot, 5 found: one may be hidden or have missed the face.'],
  [6, 2, 'plain', '6 arrows shot, 2 found: 4 may be hidden or have missed the face.'],
  [3, 0, 'standing', '3 arrows shot, 0 found standing: 3 may be hidden or have missed the face.'],
  [
    3,
    2,
    'both photos',
    '3 arrows shot, 2 found in the two photos: one may be hidden in both or have missed the face.',
  ],
] as const)('%i shot, %i found, %s', (shot, found, where, words) => {
  expect(foundTooFew(shot, found, where)).toBe(words);
});
