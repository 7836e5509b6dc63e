import { describe, expect, test } from 'vitest';
import { tooFewDistances } from '../../src/trends/enough-distances.ts';

describe('what changes with distance', () => {
  test.each([
    [[], 'Shoot groups at 3 distances: fewer tell no law.'],
    [[18], 'Shoot groups at 2 more distances: below 3 a line fits always, and tells nothing.'],
    // The same distance again is none.
    [
      [18, 30, 18, 30],
      'Shoot groups at one more distance: below 3 a line fits always, and tells nothing.',
    ],
    // 1.5 times 30 m is 45 m.
    [
      [44, 30, 40],
      'Shoot groups farther apart: from 30 m to 44 m hardly anything grows. 45 m would do.',
    ],
  ])('of %j is not said yet', (distances, why) => {
    expect(tooFewDistances(distances)).toBe(why);
  });

  test('is said from three distances on, the farthest half as far again as the nearest', () => {
    expect(tooFewDistances([45, 30, 40])).toBeNull();
    expect(tooFewDistances([70, 18, 50, 30])).toBeNull();
  });
});
