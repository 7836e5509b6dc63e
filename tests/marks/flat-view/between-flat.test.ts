import { expect, test } from 'vitest';
import { betweenFlat } from '../../../src/marks/flat-view/between-flat.ts';

test('values between pixels follow a plane exactly; beyond the rim there is nothing', () => {
  const side = 6;
  const at = betweenFlat(
    Float32Array.from({ length: side * side }, (_, i) => 2 * (i % side) + 5 * Math.floor(i / side)),
    side,
  );
  // The centre of the first pixel is (0.5, 0.5).
  expect(at(0.5, 0.5)).toBe(0);
  expect(at(3.25, 2.75)).toBeCloseTo(2 * 2.75 + 5 * 2.25, 5);
  expect([at(0.4, 3), at(3, side - 0.4)]).toEqual([0, 0]);
});
