import { describe, expect, test } from 'vitest';
import type { FlatFace } from '../../../src/fit/flat/flatten.ts';
import {
  isOfCores,
  largestNear,
  shaftMapOfBars,
  shaftMapOfEntries,
  shaftMapOfEvidence,
} from '../../../src/marks/standing/shaft-map.ts';

/** A face of 8 by 8 pixels of half a millimetre, whose last two columns the photo does not show. */
const SIDE = 8;
const flat: FlatFace = {
  raster: { width: SIDE, height: SIDE, data: new Uint8ClampedArray(4 * SIDE * SIDE) },
  spot: 0,
  seen: Uint8Array.from({ length: SIDE * SIDE }, (_, at) => (at % SIDE < 6 ? 1 : 0)),
  mmPerPx: 0.5,
  halfWidthMm: 2,
  centreMm: [0, 0],
};
const SHAFT_MM = 6;
const CELLS = 16;
const one = (at: number, value: number) =>
  Float32Array.from({ length: CELLS }, (_, i) => (i === at ? value : 0));
const SEEN = [1, 1, 1, 0, 1, 1, 1, 0, 1, 1, 1, 0, 1, 1, 1, 0];

describe('shafts on cells of a flat face', () => {
  test('by the network: where a shaft or its front end shows', () => {
    const map = shaftMapOfEvidence(
      {
        width: 4,
        height: 4,
        pxPerCell: 2,
        shaft: one(5, 0.75),
        entry: one(6, 0.5),
        vane: one(7, 0.25),
        hole: one(0, 1),
        fresh: one(0, 1),
        lookedClosely: new Uint8Array(CELLS),
      },
      flat,
      SHAFT_MM,
    );
    // 6 mm of 0.5 mm a pixel and 2 pixels a cell.
    expect(map.shaft).toBe(6);
    expect([...map.covered].flatMap((value, i) => (value > 0 ? [[i, value]] : []))).toEqual([
      [5, 0.75],
      [6, 0.5],
    ]);
    expect(map.vane?.[7]).toBe(0.25);
    expect([...map.seen]).toEqual(SEEN);
    expect(isOfCores(map)).toBe(false);
  });

  test('by the network for bunches: the cores of shafts, which lie apart where shafts touch', () => {
    const map = shaftMapOfEntries(
      { width: 4, height: 4, pxPerCell: 2, core: one(5, 0.75), entry: one(5, 1), vane: one(0, 0) },
      flat,
      SHAFT_MM,
    );
    expect(map.covered[5]).toBe(1);
    expect(isOfCores(map)).toBe(true);
  });

  test('by hand: a cell is the mean of its four pixels', () => {
    const bars = new Float32Array(SIDE * SIDE);
    // Of the cell of row 1, column 2: one pixel whole, one half.
    bars[2 * SIDE + 4] = 1;
    bars[3 * SIDE + 5] = 0.5;
    const map = shaftMapOfBars(bars, flat, SHAFT_MM);
    expect([map.width, map.height, map.shaft]).toEqual([4, 4, 6]);
    expect(map.covered[1 * 4 + 2]).toBe(0.375);
    expect([...map.covered].filter((value) => value > 0)).toHaveLength(1);
    expect([...map.seen]).toEqual(SEEN);
    expect([map.entry, map.vane]).toEqual([null, null]);
  });

  test('the largest value near a place is looked for within its reach, and inside the map', () => {
    const map = one(2 * 4 + 3, 0.9);
    const size = { width: 4, height: 4 };
    expect(largestNear(size, map, 1.5, 2.5, 2)).toBeCloseTo(0.9);
    expect(largestNear(size, map, 1.5, 2.5, 1)).toBe(0);
    expect(largestNear(size, map, 9.5, 9.5, 7)).toBeCloseTo(0.9);
    expect(largestNear(size, map, -5, -5, 2)).toBe(0);
  });
});
