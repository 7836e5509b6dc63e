import { expect, test } from 'vitest';
import type { FlatFace } from '../../../src/fit/flat/flatten.ts';
import { exposed } from '../../../src/marks/flat-view/exposed.ts';

const SIDE = 60;

/** A flat face of paper of one level, a tenth of it ink at half of that; the last rows are not seen. */
function flatFace(paper: number): FlatFace {
  const data = new Uint8ClampedArray(SIDE * SIDE * 4);
  for (let i = 0; i < SIDE * SIDE; i++) {
    data.fill(i % 10 === 3 ? paper / 2 : paper, 4 * i, 4 * i + 3);
    data[4 * i + 3] = 255;
  }
  const seen = new Uint8Array(SIDE * SIDE).fill(1, 0, SIDE * (SIDE - 6));
  data.fill(255, SIDE * (SIDE - 6) * 4);
  return {
    raster: { width: SIDE, height: SIDE, data },
    spot: 0,
    mmPerPx: 1,
    halfWidthMm: SIDE / 2,
    centreMm: [0, 0],
    seen,
  };
}

test.each([
  [90, 225, 113],
  [180, 225, 113],
  [20, 160, 80],
])('paper of level %d becomes %d, and what is half as bright %d', (paper, bright, half) => {
  const before = flatFace(paper);
  const untouched = before.raster.data.slice();
  const { data } = exposed(before).raster;
  expect([...data.slice(0, 4)]).toEqual([bright, bright, bright, 255]);
  expect(Math.abs(data[12]! - half)).toBeLessThanOrEqual(1);
  expect(before.raster.data).toEqual(untouched);
});

test('a well exposed face stays as it is', () => {
  const flat = flatFace(230);
  expect(exposed(flat)).toBe(flat);
});
