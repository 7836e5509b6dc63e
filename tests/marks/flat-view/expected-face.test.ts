import { describe, expect, test } from 'vitest';
import type { FlatFace } from '../../../src/fit/flat/flatten.ts';
import { misfitOf } from '../../../src/marks/flat-view/expected-face.ts';

const SIDE = 160;
const SHAFT_MM = 6;
const LIMIT_MM = 70;

/** A face of a millimetre a pixel, by the colour at each place from its centre (right, up). */
function flatOf(
  colourAt: (x: number, y: number) => readonly [number, number, number],
  isSeen: (x: number, y: number) => boolean = () => true,
): FlatFace {
  const data = new Uint8ClampedArray(4 * SIDE * SIDE);
  const seen = new Uint8Array(SIDE * SIDE);
  for (let row = 0; row < SIDE; row++) {
    for (let column = 0; column < SIDE; column++) {
      const [x, y] = [column + 0.5 - SIDE / 2, SIDE / 2 - row - 0.5];
      data.set([...colourAt(x, y), 255], 4 * (row * SIDE + column));
      seen[row * SIDE + column] = isSeen(x, y) ? 1 : 0;
    }
  }
  return {
    raster: { width: SIDE, height: SIDE, data },
    spot: 0,
    seen,
    mmPerPx: 1,
    halfWidthMm: SIDE / 2,
    centreMm: [0, 0],
  };
}
const grey = (level: number) => [level, level, level] as const;
/** The pixel whose middle is half a pixel right and up of a place. */
const at = (x: number, y: number) => (SIDE / 2 - 1 - y) * SIDE + SIDE / 2 + x;
const HOLE = [40, 0] as const;
const isHole = (x: number, y: number) => Math.hypot(x - HOLE[0], y - HOLE[1]) < SHAFT_MM / 2;

describe('what a face without marks would look like', () => {
  test('is even where it is even, and a hole departs by its whole depth', () => {
    const { dark, odd, level } = misfitOf(
      flatOf((x, y) => grey(isHole(x, y) ? 40 : 200)),
      SHAFT_MM,
      LIMIT_MM,
    );
    expect(level[at(...HOLE)]).toBeCloseTo(200, 4);
    expect(dark[at(...HOLE)]).toBeCloseTo(160, 4);
    expect(odd[at(...HOLE)]).toBeCloseTo(160, 4);
    // Beside it, across the face, and at the centre.
    for (const [x, y] of [
      [50, 0],
      [40, 8],
      [-40, 0],
      [0, 0],
    ] as const) {
      // prettier-ignore
      expect(dark[at(x, y)]).toBeCloseTo(0, 4);
    }
  });

  test('is left the other way by what is brighter than the print', () => {
    const { dark } = misfitOf(
      flatOf((x, y) => grey(isHole(x, y) ? 230 : 90)),
      SHAFT_MM,
      LIMIT_MM,
    );
    expect(dark[at(...HOLE)]).toBeCloseTo(-140, 4);
  });

  test('has each zone in its own colour, and a line between them where it is printed', () => {
    const { odd, level } = misfitOf(
      flatOf((x, y) => {
        const radius = Math.hypot(x, y);
        return radius < 30 ? [240, 215, 70] : radius < 33 ? grey(20) : [210, 60, 65];
      }),
      SHAFT_MM,
      LIMIT_MM,
    );
    expect(level[at(20, 0)]).toBeCloseTo((240 + 215 + 70) / 3, 3);
    expect(level[at(0, 50)]).toBeCloseTo((210 + 60 + 65) / 3, 3);
    expect(odd[at(20, 0)]).toBeCloseTo(0, 3);
    expect(odd[at(0, 50)]).toBeCloseTo(0, 3);
    // The middle of the line is as dark as the print, all the way round.
    for (const [x, y] of [
      [31, 0],
      [-32, 0],
      [0, 31],
    ] as const) {
      // prettier-ignore
      expect(level[at(x, y)]).toBeLessThan(60);
    }
  });

  test('follows the light from one side of a face to the other', () => {
    const { dark } = misfitOf(
      flatOf((x) => grey(Math.round(150 + 0.5 * x))),
      SHAFT_MM,
      LIMIT_MM,
    );
    for (const [x, y] of [
      [40, 0],
      [-40, 0],
      [0, 40],
      [25, 25],
    ] as const) {
      // prettier-ignore
      expect(Math.abs(dark[at(x, y)]!)).toBeLessThan(3);
    }
  });

  test('expects nothing beyond its limit, and nothing where the photo does not show the face', () => {
    const { dark, odd, level } = misfitOf(
      flatOf(
        (x) => grey(x > 75 || x < -20 ? 0 : 200),
        (x) => x >= -20,
      ),
      SHAFT_MM,
      LIMIT_MM,
    );
    for (const [x, y] of [
      [76, 0],
      [-40, 0],
    ] as const) {
      // prettier-ignore
      expect([dark[at(x, y)], odd[at(x, y)], level[at(x, y)]]).toEqual([0, 0, 0]);
    }
    // What is not seen is no part of what its neighbours are compared with.
    expect(level[at(0, 40)]).toBeCloseTo(200, 4);
  });
});
