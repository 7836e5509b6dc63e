import { expect, test } from 'vitest';
import { FACES } from '../../src/face/faces.ts';
import { spotToFlat, type FlatFace } from '../../src/fit/flat/flatten.ts';
import type { SpotView } from '../../src/marks/flat-view/spot-view.ts';
import { holesFromMaps } from '../../src/marks/holes-from-maps.ts';
import type { EvidenceMaps } from '../../src/marks/network/evidence-maps.ts';

const SIDE = 480;
const PX_PER_CELL = 2;
const CELLS = SIDE / PX_PER_CELL;

const flat: FlatFace = {
  raster: { width: SIDE, height: SIDE, data: new Uint8ClampedArray(0) },
  spot: 0,
  mmPerPx: 1,
  halfWidthMm: SIDE / 2,
  centreMm: [0, 0],
  seen: new Uint8Array(0),
};
const nothing = new Float32Array(SIDE * SIDE);
/** The number of one zone in four rows. */
const NUMBERS = [
  [150, 0],
  [0, 150],
  [-150, 0],
  [0, -150],
] as const;
const view: SpotView = {
  face: FACES.wa40,
  flat,
  misfit: { side: SIDE, odd: nothing, dark: nothing, level: nothing },
  printed: NUMBERS.map((mm) => ({ mm, halfMm: 5, zone: 2 })),
  shaftMm: 8,
};

/** Probability of a hole at the first of several places with the same heat. */
function probabilityAt(...places: readonly (readonly [number, number])[]): number {
  const hole = new Float32Array(CELLS * CELLS);
  for (const place of places) {
    const [x, y] = spotToFlat(flat, place);
    hole[Math.floor(y / PX_PER_CELL) * CELLS + Math.floor(x / PX_PER_CELL)] = 0.6;
  }
  const other = new Float32Array(CELLS * CELLS);
  const maps: EvidenceMaps = {
    width: CELLS,
    height: CELLS,
    pxPerCell: PX_PER_CELL,
    hole,
    fresh: other,
    shaft: other,
    entry: other,
    vane: other,
    lookedClosely: new Uint8Array(CELLS * CELLS).fill(1),
  };
  const [x, y] = places[0]!;
  const found = holesFromMaps(view, maps, []).find(
    ({ mm }) => Math.hypot(mm[0] - x, mm[1] - y) < 3,
  );
  return found?.probability ?? 0;
}

test('a hole beside no print is likelier than one on a number', () => {
  expect(probabilityAt([100, 60])).toBeGreaterThan(probabilityAt(NUMBERS[0]));
});

test('what a number shows in every row is the number, not a hole', () => {
  const inOneRow = probabilityAt(NUMBERS[0]);
  const inEveryRow = probabilityAt(...NUMBERS);
  expect(inEveryRow).toBeLessThan(inOneRow / 2);
  // One other row with a hole in it says nothing yet.
  expect(probabilityAt(NUMBERS[0], NUMBERS[1])).toBeCloseTo(inOneRow);
});

test('the cross in the middle is hardly ever a hole', () => {
  expect(probabilityAt([0, 0])).toBeLessThan(0.02);
});
