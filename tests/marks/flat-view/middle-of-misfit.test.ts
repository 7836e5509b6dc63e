import { expect, test } from 'vitest';
import type { Misfit } from '../../../src/marks/flat-view/expected-face.ts';
import { middleOfMisfit } from '../../../src/marks/flat-view/middle-of-misfit.ts';

const SIDE = 32;
const misfit = (odd: Float32Array) => ({ odd, side: SIDE }) as unknown as Misfit;

test('a place where the face is as printed stays where it is', () => {
  expect(middleOfMisfit(misfit(new Float32Array(SIDE * SIDE)), [12.25, 9.75], 8)).toEqual([
    12.25, 9.75,
  ]);
});

test('a round hole draws a start beside it to its middle', () => {
  const odd = new Float32Array(SIDE * SIDE).map((_, i) => {
    const [x, y] = [(i % SIDE) + 0.5, Math.floor(i / SIDE) + 0.5];
    return Math.hypot(x - 16, y - 15) < 4 ? 10 : 0;
  });
  const [x, y] = middleOfMisfit(misfit(odd), [17.5, 16], 8);
  expect(Math.hypot(x - 16, y - 15)).toBeLessThan(0.2);
});
