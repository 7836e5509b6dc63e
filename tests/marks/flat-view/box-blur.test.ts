import { expect, test } from 'vitest';
import { boxBlur } from '../../../src/marks/flat-view/box-blur.ts';

const SIDE = 23;

/** The same by its definition: two means over a square, the rim going on beyond the picture. */
function byDefinition(image: Float32Array, reach: number): Float32Array {
  const within = (i: number) => Math.min(SIDE - 1, Math.max(0, i));
  let from = image;
  for (let pass = 0; pass < 2; pass++) {
    const to = new Float32Array(image.length);
    for (let y = 0; y < SIDE; y++) {
      for (let x = 0; x < SIDE; x++) {
        let sum = 0;
        for (let dy = -reach; dy <= reach; dy++) {
          for (let dx = -reach; dx <= reach; dx++) {
            sum += from[within(y + dy) * SIDE + within(x + dx)]!;
          }
        }
        to[y * SIDE + x] = sum / (2 * reach + 1) ** 2;
      }
    }
    from = to;
  }
  return from;
}

test.each([1, 2, 5])('a running mean of reach %d is the mean over squares', (reach) => {
  const image = Float32Array.from({ length: SIDE * SIDE }, (_, i) => (i * 7919) % 256);
  const before = image.slice();
  const blurred = boxBlur(image, SIDE, reach);
  const expected = byDefinition(image, reach);
  blurred.forEach((value, i) => expect(value).toBeCloseTo(expected[i]!, 2));
  expect(image).toEqual(before);
});
