import fc from 'fast-check';
import { expect, it } from 'vitest';
import { betweenPixels } from '../../src/raster/between-pixels.ts';
import { levelExceededBy } from '../../src/raster/level-exceeded-by.ts';
import { packed, pixelWords } from '../../src/raster/pixel-words.ts';

const byte = fc.integer({ min: 0, max: 255 });

function levels(word: number): [number, number, number, number] {
  return [word & 255, (word >>> 8) & 255, (word >>> 16) & 255, word >>> 24];
}

it('sees the bytes of a raster as words, also where they begin between two words', () => {
  const bytes = Uint8Array.of(9, 1, 2, 3, 255, 4, 5, 6, 255);
  const [first, second] = pixelWords({ width: 2, height: 1, data: bytes.subarray(1) });
  expect([levels(first!), levels(second!)]).toEqual([
    [1, 2, 3, 255],
    [4, 5, 6, 255],
  ]);
});

it('looks at the raster itself where it can: what is written into words is in the picture', () => {
  const raster = { width: 1, height: 1, data: new Uint8ClampedArray(4) };
  pixelWords(raster)[0] = packed(10.4, 20.5, 255);
  expect([...raster.data]).toEqual([10, 21, 255, 255]);
});

it('mixes four pixels by their distance, within what its parts can tell', () => {
  fc.assert(
    fc.property(
      fc.array(fc.tuple(byte, byte, byte), { minLength: 4, maxLength: 4 }),
      fc.double({ min: 0, max: 0.999, noNaN: true }),
      fc.double({ min: 0, max: 0.999, noNaN: true }),
      fc.integer({ min: 5, max: 8 }),
      (pixels, x, y, bits) => {
        const words = Uint32Array.from(pixels, (pixel) => packed(...pixel));
        const got = levels(betweenPixels(words, 2, x, y, bits));
        const weights = [(1 - x) * (1 - y), x * (1 - y), (1 - x) * y, x * y];
        // Each of the four weights is off by half a part at most, and a level is rounded once.
        const slack = 4 * 255 * 0.5 ** bits + 1;
        for (const channel of [0, 1, 2] as const) {
          const exact = weights.reduce((sum, w, i) => sum + w * pixels[i]![channel], 0);
          expect(Math.abs(got[channel] - exact)).toBeLessThanOrEqual(slack);
        }
        expect(got[3]).toBe(255);
      },
    ),
  );
  const grey = Uint32Array.from({ length: 4 }, () => packed(77, 77, 77));
  expect(levels(betweenPixels(grey, 2, 0.3, 0.8, 5))).toEqual([77, 77, 77, 255]);
});

it('finds the level that a share of all values exceeds, as sorting them does', () => {
  fc.assert(
    fc.property(
      fc.array(byte, { minLength: 1, maxLength: 300 }),
      fc.double({ min: 0.001, max: 0.999, noNaN: true }),
      (values, share) => {
        const counts = new Uint32Array(256);
        for (const value of values) counts[value]!++;
        const level = levelExceededBy(share, counts, values.length);
        const above = (limit: number) => values.filter((value) => value > limit).length;
        expect(above(level)).toBeLessThan(share * values.length);
        // The next level down would be exceeded by too many.
        if (level > 1) expect(above(level - 1)).toBeGreaterThanOrEqual(share * values.length);
      },
    ),
  );
});
