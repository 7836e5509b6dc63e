import { expect, test } from 'vitest';
import { spotToFlat, type FlatFace } from '../../../src/fit/flatten.ts';
import type { EvidenceMaps } from '../../../src/marks/network/evidence-maps.ts';
import type { RearView } from '../../../src/marks/standing/rear-view.ts';
import type { StandingArrow } from '../../../src/marks/standing/standing-arrows.ts';
import { vanesAtRear } from '../../../src/marks/standing/vanes-at-rear.ts';

const SIDE = 200;
const NONE = new Float32Array(SIDE * SIDE);

const flat: FlatFace = {
  raster: { width: SIDE, height: SIDE, data: new Uint8ClampedArray(0) },
  spot: 0,
  mmPerPx: 2,
  halfWidthMm: 200,
  centreMm: [300, 0],
  seen: new Uint8Array(SIDE * SIDE).fill(1),
};

/** An arrow from the face's centre to the right, its nock 400 mm off on the flat face. */
const arrow = (yMm: number): StandingArrow => ({
  spot: 0,
  mm: [0, yMm],
  sdMm: 0.5,
  probability: 0.99,
  along: [1, 0],
  lengthMm: 400,
  hidden: false,
});

/** On this stretch a millimetre of height is seen as two thirds of a millimetre. */
const stretch = {
  fromMm: 250,
  toMm: 480,
  leavesPhoto: false,
  distanceOf: (height: number) => height / 1.5,
  heightAt: (d: number) => d * 1.5,
};

/** A map that is 1 in a box of the flat face, mm. */
function box(left: number, right: number, low: number, high: number): Float32Array {
  const map = new Float32Array(SIDE * SIDE);
  for (let y = 0; y < SIDE; y++) {
    for (let x = 0; x < SIDE; x++) {
      const [mmX, mmY] = [flat.centreMm[0] - 200 + (x + 0.5) * 2, 200 - (y + 0.5) * 2];
      if (mmX > left && mmX < right && mmY > low && mmY < high) map[y * SIDE + x] = 1;
    }
  }
  return map;
}

const join = (...maps: Float32Array[]): Float32Array =>
  Float32Array.from(NONE, (_, i) => Math.max(...maps.map((map) => map[i]!)));

function mapsOf(shaft: Float32Array, vane: Float32Array): EvidenceMaps {
  const rest = {
    hole: NONE,
    fresh: NONE,
    disc: NONE,
    entry: NONE,
    nock: NONE,
    towardsEntryX: NONE,
    towardsEntryY: NONE,
    toMarkX: NONE,
    toMarkY: NONE,
    lookedClosely: new Uint8Array(0),
  };
  return { width: SIDE, height: SIDE, pxPerCell: 1, ...rest, shaft, vane };
}

const view = (count: number): RearView => ({
  flat,
  rearShaftMm: 16,
  stretches: Array.from({ length: count }, () => stretch),
});

test('vanes beside the rear end make it fletched, a smooth shaft bare', () => {
  const shaft = box(0, 400, -8, 8);
  const vanes = box(340, 385, -30, 30);
  expect(vanesAtRear(view(1), mapsOf(shaft, vanes), [arrow(0)])[0]).toBeGreaterThan(0.9);
  expect(vanesAtRear(view(1), mapsOf(shaft, NONE), [arrow(0)])).toEqual([0]);
});

test('an arrow lends its vanes to no neighbour', () => {
  const shafts = join(box(0, 400, -8, 8), box(0, 400, 37, 53));
  const vanes = box(340, 385, -22, 22);
  const [fletched, bare] = vanesAtRear(view(2), mapsOf(shafts, vanes), [arrow(0), arrow(45)]);
  expect(fletched).toBeGreaterThan(0.9);
  expect(bare).toBe(0);
});

test('says nothing where the arrow leaves the photo before its rear end', () => {
  const cut = { ...view(1), stretches: [{ ...stretch, toMm: 320, leavesPhoto: true }] };
  expect(vanesAtRear(cut, mapsOf(box(0, 500, -8, 8), NONE), [arrow(0)])).toEqual([null]);
  expect(spotToFlat(flat, [320, 0])[0]).toBeLessThan(SIDE);
});
