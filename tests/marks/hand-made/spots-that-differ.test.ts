import { expect, test } from 'vitest';
import { FACES } from '../../../src/face/faces.ts';
import { flatToSpot, type FlatFace } from '../../../src/fit/flat/flatten.ts';
import { handMadeHoles } from '../../../src/marks/hand-made/hand-made-holes.ts';
import { spotsThatDiffer } from '../../../src/marks/hand-made/spots-that-differ.ts';
import type { Misfit } from '../../../src/marks/flat-view/expected-face.ts';
import { random } from '../../groups/random.ts';

const SIDE = 160;
const SHAFT_PX = 10;
const FLAT: FlatFace = {
  raster: { width: SIDE, height: SIDE, data: new Uint8ClampedArray(SIDE * SIDE * 4) },
  spot: 0,
  mmPerPx: 0.6,
  halfWidthMm: SIDE * 0.3,
  centreMm: [0, 0],
  seen: new Uint8Array(SIDE * SIDE).fill(1),
};
const SHAFT_MM = SHAFT_PX * FLAT.mmPerPx;

/** Noise about nothing, and something dark where `isDark` says so. */
function misfitWith(isDark: (x: number, y: number) => boolean): Misfit {
  const { normal } = random(7);
  const dark = new Float32Array(SIDE * SIDE);
  const odd = new Float32Array(SIDE * SIDE);
  for (let i = 0; i < dark.length; i++) {
    const noise = 2 * normal();
    const [x, y] = [(i % SIDE) + 0.5, Math.floor(i / SIDE) + 0.5];
    dark[i] = noise + (isDark(x, y) ? 150 : 0);
    odd[i] = Math.abs(dark[i]!);
  }
  return { side: SIDE, dark, odd, level: new Float32Array(SIDE * SIDE).fill(200) };
}

const inDisc = (cx: number, cy: number) => (x: number, y: number) =>
  Math.hypot(x - cx, y - cy) < 0.4 * SHAFT_PX;

test('a disc as wide as the shaft differs all round, and where it is', () => {
  const blobs = spotsThatDiffer(FLAT, misfitWith(inDisc(60, 95)), SHAFT_MM);
  const strong = blobs.filter(({ darkness }) => darkness > 0.3);
  expect(strong).toHaveLength(1);
  expect(Math.hypot(strong[0]!.x - 60, strong[0]!.y - 95)).toBeLessThan(0.2 * SHAFT_PX);
  expect(strong[0]!.darkness).toBeLessThan(1);
});

test.each([
  ['a bar across the face', (x: number, y: number) => Math.abs(x - y) < 0.5 * SHAFT_PX],
  ['the edge of a shadow', (x: number) => x > 70],
  ['nothing at all', () => false],
])('%s is no disc', (_, isDark) => {
  const blobs = spotsThatDiffer(FLAT, misfitWith(isDark), SHAFT_MM);
  // Away from the picture's rim, where a bar ends.
  const inside = blobs.filter(({ x, y }) => Math.min(x, y) > 30 && Math.max(x, y) < SIDE - 30);
  expect(inside.filter(({ darkness }) => darkness > 0.3)).toEqual([]);
});

test('a dark disc is a hole, and one of a number printed there hardly', () => {
  const isDark = inDisc(60.5, 95.5);
  const view = {
    face: FACES.wa80,
    flat: FLAT,
    misfit: misfitWith(isDark),
    printed: [],
    shaftMm: SHAFT_MM,
  };
  const holes = handMadeHoles(view);
  expect(holes).toHaveLength(1);
  const [x, y] = flatToSpot(FLAT, [60.5, 95.5]);
  expect(Math.hypot(holes[0]!.mm[0] - x, holes[0]!.mm[1] - y)).toBeLessThan(3 * holes[0]!.sdMm);
  // Where print is likelier the same evidence is worth less.
  const doubted = handMadeHoles(view, { logOdds: -16, printedLogOdds: 0 });
  expect(doubted[0]?.probability ?? 0).toBeLessThan(holes[0]!.probability);
});
