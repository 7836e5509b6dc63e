import fc from 'fast-check';
import { beforeAll, expect, it } from 'vitest';
import { loadOpenCv, type OpenCv } from '../../src/raster/load-open-cv.ts';
import type { Raster } from '../../src/raster/raster.ts';
import { shrink } from '../../src/raster/shrink.ts';

let cv: OpenCv;
beforeAll(async () => {
  ({ cv } = await loadOpenCv());
});

function noise(width: number, height: number, seed: number): Raster {
  let state = seed >>> 0;
  const data = Uint8ClampedArray.from({ length: width * height * 4 }, (_, i) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return i % 4 === 3 ? 255 : state >>> 24;
  });
  return { width, height, data };
}

/** The same mean of blocks by OpenCV, whose area interpolation it is where sides divide evenly. */
function byOpenCv({ width, height, data }: Raster, factor: number): Uint8Array {
  const source = cv.matFromArray(height, width, cv.CV_8UC4, data as unknown as number[]);
  const out = new cv.Mat();
  cv.resize(
    source,
    out,
    new cv.Size(width / factor, height / factor),
    0,
    0,
    cv.INTER_AREA as number,
  );
  const bytes = Uint8Array.from(out.data);
  source.delete();
  out.delete();
  return bytes;
}

it('is the mean of square blocks, as OpenCV has it', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 2, max: 7 }),
      fc.integer({ min: 1, max: 6 }),
      fc.integer({ min: 1, max: 6 }),
      fc.nat(),
      (factor, columns, rows, seed) => {
        const photo = noise(columns * factor, rows * factor, seed);
        const small = shrink(photo, Math.max(columns, rows));
        expect(small.factor).toBe(factor);
        const wanted = byOpenCv(photo, factor);
        // Halves are rounded up here and to even numbers there.
        small.raster.data.forEach((byte, i) =>
          expect(Math.abs(byte - wanted[i]!)).toBeLessThanOrEqual(1),
        );
      },
    ),
    { numRuns: 40 },
  );
});

it('keeps the brightest white of the largest blocks: sums do not run over', () => {
  const side = 512;
  const white = {
    width: side,
    height: side,
    data: new Uint8ClampedArray(side * side * 4).fill(255),
  };
  const { raster, factor } = shrink(white, 2);
  expect(factor).toBe(256);
  expect([...raster.data]).toEqual(Array(16).fill(255));
});

it('hands a photo back that is small enough, and leaves out what fills no block', () => {
  const photo = noise(10, 7, 3);
  expect(shrink(photo, 10)).toEqual({ raster: photo, factor: 1 });
  const { raster, factor } = shrink(photo, 4);
  expect([raster.width, raster.height, factor]).toEqual([3, 2, 3]);
});
