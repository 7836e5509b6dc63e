import { expect, test } from 'vitest';
import { boxBlur } from '../../../src/marks/flat-view/box-blur.ts';

/** The same by its definition: two means over a square, the rim going on beyond the picture. */
function byDefinition(image: Float32Array, side: number, reach: number): Float32Array {
  const within = (i: number) => Math.min(side - 1, Math.max(0, i));
  let from = image;
  for (let pass = 0; pass < 2; pass++) {
    const to = new Float32Array(image.length);
    for (let y = 0; y < side; y++) {
      for (let x = 0; x < side; x++) {
        let sum = 0;
        for (let dy = -reach; dy <= reach; dy++) {
          for (let dx = -reach; dx <= reach; dx++) {
            sum += from[within(y + dy) * side + within(x + dx)]!;
          }
        }
        to[y * side + x] = sum / (2 * reach + 1) ** 2;
      }
    }
    from = to;
  }
  return from;
}

test.each([
  [23, 1],
  [23, 2],
  [23, 5],
  [24, 5],
  [3, 1],
])('over %d pixels a side a running mean of reach %d is the mean over squares', (side, reach) => {
  const image = Float32Array.from({ length: side * side }, (_, i) => (i * 7919) % 256);
  const before = image.slice();
  const blurred = boxBlur(image, side, reach);
  const expected = byDefinition(image, side, reach);
  blurred.forEach((value, i) => expect(value).toBeCloseTo(expected[i]!, 2));
  expect(image).toEqual(before);
});
