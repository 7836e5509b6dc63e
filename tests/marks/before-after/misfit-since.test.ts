import { expect, test } from 'vitest';
import type { SpotMm } from '../../../src/face/coordinates.ts';
import { spotToFlat } from '../../../src/fit/flat/flatten.ts';
import { misfitSince } from '../../../src/marks/before-after/misfit-since.ts';
import type { SpotView } from '../../../src/marks/flat-view/spot-view.ts';

const SIDE = 120;
const FRAME = { mmPerPx: 1, halfWidthMm: SIDE / 2, centreMm: [0, 0] as const };

/** A face with dark discs where holes are. */
function viewOf(holes: readonly SpotMm[], darkness: number): SpotView {
  const dark = new Float32Array(SIDE * SIDE);
  const level = new Float32Array(SIDE * SIDE).fill(200);
  for (const mm of holes) {
    const [cx, cy] = spotToFlat(FRAME, mm);
    for (let i = 0; i < dark.length; i++) {
      if (Math.hypot((i % SIDE) + 0.5 - cx, Math.floor(i / SIDE) + 0.5 - cy) < 3)
        dark[i] = darkness;
    }
  }
  const misfit = { side: SIDE, dark, odd: dark.slice(), level };
  return { flat: FRAME, misfit, shaftMm: 6 } as unknown as SpotView;
}

function darkAt({ dark }: { dark: Float32Array }, mm: SpotMm): number {
  const [x, y] = spotToFlat(FRAME, mm);
  return dark[Math.floor(y) * SIDE + Math.floor(x)]!;
}

const OLD: SpotMm = [20, -10];
const NEW: SpotMm = [-25, 15];

test.each([
  ['lies where it lay', (mm: SpotMm) => mm],
  ['is turned by a right angle', ([x, y]: SpotMm): SpotMm => [-y, x]],
] as const)('only what was not there before is left, where the earlier photo %s', (_, toBefore) => {
  const before = viewOf([toBefore(OLD)], 120);
  // A little darker in the later photo, and a pixel beside: light and fits differ.
  const after = viewOf([[OLD[0] + 1, OLD[1]], NEW], 140);
  const registration = { toBefore, sdMm: 1, clear: 1, matched: 1, matchedByChance: 0 };
  const since = misfitSince(before, after, registration);
  expect(darkAt(since, OLD)).toBe(0);
  expect(darkAt(since, NEW)).toBe(140);
});

test('what the earlier photo does not show is not said to be new', () => {
  const before = viewOf([], 0);
  before.misfit.level.fill(0);
  const registration = {
    toBefore: (mm: SpotMm) => mm,
    sdMm: 1,
    clear: 0,
    matched: 0,
    matchedByChance: 0,
  };
  const since = misfitSince(before, viewOf([NEW], 140), registration);
  expect(darkAt(since, NEW)).toBe(0);
});
