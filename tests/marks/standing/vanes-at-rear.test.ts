import { expect, test } from 'vitest';
import { spotToFlat, type FlatFace } from '../../../src/fit/flatten.ts';
import type { EvidenceMaps } from '../../../src/marks/network/evidence-maps.ts';
import type { SpotView } from '../../../src/marks/hand-made/spot-view.ts';
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
  likelyMm: 400,
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

/** A nock as the network shows it: a blob about a place, mm. */
function blob(...places: (readonly [number, number])[]): Float32Array {
  const map = new Float32Array(SIDE * SIDE);
  for (const place of places) {
    const [x, y] = spotToFlat(flat, place);
    for (let i = 0; i < map.length; i++) {
      const apart = Math.hypot((i % SIDE) + 0.5 - x, Math.floor(i / SIDE) + 0.5 - y);
      map[i] = Math.max(map[i]!, Math.exp(-(apart ** 2) / 8));
    }
  }
  return map;
}

function mapsOf(shaft: Float32Array, vane: Float32Array, nock: Float32Array): EvidenceMaps {
  const rest = {
    hole: NONE,
    fresh: NONE,
    entry: NONE,
    nock,
    lookedClosely: new Uint8Array(0),
  };
  return { width: SIDE, height: SIDE, pxPerCell: 1, ...rest, shaft, vane };
}

const view = (count: number): RearView => ({
  flat,
  rearShaftMm: 16,
  stretches: Array.from({ length: count }, () => stretch),
});

/** A face that ends long before the rear ends: only the maps tell. */
const FAR = {
  flat: { ...flat, centreMm: [0, 0], halfWidthMm: 10 },
  misfit: { side: 10, unshadedAt: () => 0, level: NONE },
} as unknown as SpotView;

test('vanes before the nock make it fletched, a smooth shaft bare', () => {
  const shaft = box(0, 395, -8, 8);
  const nock = blob([395, 0]);
  const vanes = box(340, 385, -30, 30);
  const judge = (vane: Float32Array) =>
    vanesAtRear(view(1), mapsOf(shaft, vane, nock), [arrow(0)], FAR)[0];
  expect(judge(vanes)).toBeGreaterThan(0.9);
  expect(judge(NONE)).toBe(0);
  // Something broad behind the arrow is no vane.
  expect(judge(box(330, 390, -190, 190))).toBe(0);
});

test('on the face, what a map takes for a vane must depart from the print', () => {
  const shaft = box(0, 395, -8, 8);
  const vanes = box(340, 385, -30, 30);
  const maps = mapsOf(shaft, vanes, blob([395, 0]));
  const faceWith = (unshaded: Float32Array): SpotView =>
    ({
      flat,
      misfit: {
        side: SIDE,
        unshadedAt: (x: number, y: number) => unshaded[y * SIDE + x]!,
        level: new Float32Array(SIDE * SIDE).fill(100),
      },
    }) as unknown as SpotView;
  expect(vanesAtRear(view(1), maps, [arrow(0)], faceWith(NONE))).toEqual([0]);
  const odd = vanes.map((value) => 90 * value);
  expect(vanesAtRear(view(1), maps, [arrow(0)], faceWith(odd))[0]).toBeGreaterThan(0.9);
});

test('an arrow lends neither its nock nor its vanes to a neighbour', () => {
  const shafts = join(box(0, 395, -8, 8), box(0, 395, 37, 53));
  const vanes = box(340, 385, -22, 22);
  const [fletched, bare] = vanesAtRear(
    view(2),
    mapsOf(shafts, vanes, blob([395, 0], [395, 45])),
    [arrow(0), arrow(45)],
    FAR,
  );
  expect(fletched).toBeGreaterThan(0.9);
  expect(bare).toBe(0);
  const oneNock = mapsOf(shafts, vanes, blob([395, 2]));
  expect(vanesAtRear(view(2), oneNock, [arrow(0), arrow(12)], FAR)[1]).toBeNull();
});

test('says nothing where no nock is seen', () => {
  expect(vanesAtRear(view(1), mapsOf(box(0, 500, -8, 8), NONE, NONE), [arrow(0)], FAR)).toEqual([
    null,
  ]);
});
