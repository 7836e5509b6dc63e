import { expect, test } from 'vitest';
import type { SeenEntry } from '../../../src/marks/standing/entries-on-map.ts';
import { joinedByOthers } from '../../../src/marks/standing/joined-by-others.ts';
import { drawnMap, type DrawnStrip } from './drawn-map.ts';

const SHAFT = 6;
const SIDE = 200;
const LENGTH = 150;
const alone: DrawnStrip = { from: [20, 100], to: [20 + LENGTH, 100] };
const entry = { x: 20, y: 100, angle: 0, taper: 0, length: LENGTH } as SeenEntry;

test('an arrow alone is joined by none', () => {
  expect(joinedByOthers(drawnMap([alone], SIDE, SHAFT), entry)).toBeNull();
});

test('an arrow that widens towards the camera, as it should, is joined by none', () => {
  const nearer = { ...alone, widening: 2 };
  const seen = { ...entry, taper: SHAFT / LENGTH };
  expect(joinedByOthers(drawnMap([nearer], SIDE, SHAFT), seen)).toBeNull();
});

test('where another comes alongside it is joined', () => {
  const other: DrawnStrip = { from: [90, 100 + SHAFT], to: [20 + LENGTH, 100 + SHAFT] };
  const [x, y] = joinedByOthers(drawnMap([alone, other], SIDE, SHAFT), entry)!;
  expect(y).toBe(100);
  // Seen as the mean over four shafts.
  expect(Math.abs(x - 90)).toBeLessThan(4 * SHAFT);
});
