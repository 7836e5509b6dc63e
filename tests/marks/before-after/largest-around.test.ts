import { expect, test } from 'vitest';
import { largestAround } from '../../../src/marks/before-after/largest-around.ts';

test.each([0, 1, 3])('takes the largest of the square of reach %d, at the rim too', (reach) => {
  const side = 9;
  const image = Float32Array.from({ length: side * side }, (_, i) => (i * 7919) % 83);
  const largest = largestAround(image, side, reach);
  for (let y = 0; y < side; y++) {
    for (let x = 0; x < side; x++) {
      const around: number[] = [];
      for (let v = Math.max(0, y - reach); v <= Math.min(side - 1, y + reach); v++) {
        for (let u = Math.max(0, x - reach); u <= Math.min(side - 1, x + reach); u++) {
          around.push(image[v * side + u]!);
        }
      }
      expect(largest[y * side + x]).toBe(Math.max(...around));
    }
  }
});
