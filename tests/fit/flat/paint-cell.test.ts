import { expect, test } from 'vitest';
import { paintCell, type CellWay } from '../../../src/fit/flat/paint-cell.ts';

const WIDTH = 100;
const HEIGHT = 80;
const CELL = 8;

/** A photo whose red grows along x and whose green along y, two levels a pixel; blue is their mean. */
function ramp(): { words: Uint32Array; width: number; height: number } {
  const words = new Uint32Array(WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++) {
      words[y * WIDTH + x] = 0xff000000 | ((x + y) << 16) | ((2 * y) << 8) | (2 * x);
    }
  }
  return { words, width: WIDTH, height: HEIGHT };
}

function painted(way: CellWay, samples: number) {
  const words = new Uint32Array(CELL * CELL);
  const seen = new Uint8Array(CELL * CELL);
  const target = { words, seen, stride: CELL, from: 0, columns: CELL, rows: CELL };
  paintCell(ramp(), way, target, samples);
  return { words, seen };
}

/** Where the middle of a pixel of the cell lies in the photo. */
function placeOf(way: CellWay, row: number, column: number): [number, number] {
  const [u, v] = [column + 0.5, row + 0.5];
  return [
    way.x + u * way.acrossX + v * way.downX + u * v * way.twistX,
    way.y + u * way.acrossY + v * way.downY + u * v * way.twistY,
  ];
}

/** Turned, sheared and twisted: no step lies along the photo's pixels. */
const WAY: CellWay = {
  x: 30.3,
  y: 25.7,
  acrossX: 2.1,
  acrossY: -0.4,
  downX: 0.55,
  downY: 1.9,
  twistX: 0.01,
  twistY: -0.007,
};

test.each([1, 2, 3, 6])('%d samples a side give the colour at a pixel of the cell', (samples) => {
  const { words, seen } = painted(WAY, samples);
  for (let row = 0; row < CELL; row++) {
    for (let column = 0; column < CELL; column++) {
      const [x, y] = placeOf(WAY, row, column);
      const word = words[row * CELL + column]!;
      // A single nearest pixel is half a pixel off, a level, at most; so is the mean of several.
      const most = samples === 1 ? 0.6 : 1.1;
      expect(Math.abs((word & 0xff) - 2 * x)).toBeLessThan(most);
      expect(Math.abs(((word >>> 8) & 0xff) - 2 * y)).toBeLessThan(most);
      expect(Math.abs(((word >>> 16) & 0xff) - (x + y))).toBeLessThan(most);
      expect(seen[row * CELL + column]).toBe(1);
    }
  }
});

test.each([1, 2])('what lies beyond the photo stays unseen, with %d samples a side', (samples) => {
  const way = { ...WAY, x: WIDTH - 8 };
  const { words, seen } = painted(way, samples);
  let within = 0;
  for (let row = 0; row < CELL; row++) {
    for (let column = 0; column < CELL; column++) {
      const [x, y] = placeOf(way, row, column);
      const at = row * CELL + column;
      if (x > WIDTH) expect([seen[at], words[at]]).toEqual([0, 0]);
      if (x > WIDTH - 3) continue;
      within++;
      expect(seen[at]).toBe(1);
      expect(Math.abs((words[at]! & 0xff) - 2 * x)).toBeLessThan(1.1);
      expect(Math.abs(((words[at]! >>> 8) & 0xff) - 2 * y)).toBeLessThan(1.1);
    }
  }
  expect(within).toBeGreaterThan(5);
});
