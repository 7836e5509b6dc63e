import { expect, test } from 'vitest';
import type { ArrowGeometry } from '../../../src/marks/standing/arrow-geometry.ts';
import {
  arrowEntries,
  expectedTaper,
  heatOdds,
  seenFrom,
  type PlacedMap,
} from '../../../src/marks/standing/arrows-on-map.ts';
import { drawnMap, type DrawnStrip } from './drawn-map.ts';

const SIDE = 200;
const MM_PER_CELL = 2;
const SHAFT_MM = 10;
/** The camera stands to the left of the face and a little below its middle. */
const CAMERA: ArrowGeometry = { footMm: [-700, -150], heightMm: 1500 };

function placed(
  strips: readonly DrawnStrip[],
  heated: readonly (readonly [number, number])[] = [],
) {
  const map = drawnMap(strips, SIDE, SHAFT_MM / MM_PER_CELL);
  const toSpot = (x: number, y: number): [number, number] => [
    (x - SIDE / 2) * MM_PER_CELL,
    (SIDE / 2 - y) * MM_PER_CELL,
  ];
  const entry = new Float32Array(SIDE * SIDE);
  for (const [x, y] of heated) entry[Math.floor(y) * SIDE + Math.floor(x)] = 0.9;
  return {
    map: heated.length > 0 ? { ...map, entry } : map,
    toSpot,
    fromSpot: ([x, y]) => [x / MM_PER_CELL + SIDE / 2, SIDE / 2 - y / MM_PER_CELL],
    toSheet: toSpot,
    isOnFace: (x, y) => x > 1 && y > 1 && x < SIDE - 1 && y < SIDE - 1,
    peaks: heated,
    mmPerCell: MM_PER_CELL,
  } satisfies PlacedMap;
}

/** The image of an arrow that enters there and does not lean, `heightMm` of it, as a strip. */
function arrowAt(x: number, y: number, heightMm: number): DrawnStrip {
  const { toSpot, fromSpot } = placed([]);
  const [ex, ey] = toSpot(x, y);
  const [fx, fy] = CAMERA.footMm;
  // A point at that height is seen where the ray from the camera through it meets the paper.
  const factor = CAMERA.heightMm / (CAMERA.heightMm - heightMm);
  const to: [number, number] = [fx + (ex - fx) * factor, fy + (ey - fy) * factor];
  return { from: [x, y], to: fromSpot(to) };
}

const ENTRIES = [
  [60, 120],
  [90, 70],
  [120, 140],
] as const;

test('entries are at the ends from which arrows lead away from the camera', () => {
  const one = placed(ENTRIES.map(([x, y]) => arrowAt(x, y, 350)));
  const from = seenFrom(CAMERA, [one]);
  const found = arrowEntries(one, from).filter(({ logOdds }) => logOdds > 0);
  expect(found).toHaveLength(ENTRIES.length);
  for (const [x, y] of ENTRIES) {
    const near = Math.min(...found.map((entry) => Math.hypot(entry.x - x, entry.y - y)));
    expect(near).toBeLessThan((0.8 * SHAFT_MM) / MM_PER_CELL);
  }
});

test('shafts correct a fit that took the wrong side for the near one', () => {
  const one = placed(ENTRIES.map(([x, y]) => arrowAt(x, y, 350)));
  const { geometry } = seenFrom({ footMm: [600, 100], heightMm: 1500 }, [one]);
  expect(geometry.footMm[0]).toBeLessThan(0);
});

test('heat at one end makes it likelier than the same strip without', () => {
  const strips = [arrowAt(60, 120, 350)];
  const likely = (heated: readonly (readonly [number, number])[]) => {
    const one = placed(strips, heated);
    return arrowEntries(one, seenFrom(CAMERA, [one]))[0]!.logOdds;
  };
  // Heat elsewhere: the map tells of entries, and has none here.
  expect(likely([[60.5, 120.5]])).toBeGreaterThan(likely([[20.5, 20.5]]) + 1);
});

test('heat speaks for an entry above its neutral level, against one below, and never wholly', () => {
  expect(heatOdds(0.15)).toBeCloseTo(0, 9);
  expect(heatOdds(0.9)).toBeGreaterThan(0);
  expect(heatOdds(0)).toBe(heatOdds(0.01));
  expect(Number.isFinite(heatOdds(0))).toBe(true);
});

test('an arrow is seen wider where it is nearer: its taper is that of similar triangles', () => {
  const one = placed([]);
  const [likely, least, most] = expectedTaper(
    one,
    { geometry: CAMERA, slopeSd: 0 },
    { x: 100, y: 100 },
  );
  expect(least).toBeLessThan(likely);
  expect(most).toBeGreaterThan(likely);
  // At a height z a shaft looks h / (h - z) as wide, and lies slope * z * h / (h - z) from its entry.
  const { heightMm, footMm } = CAMERA;
  const slope = Math.hypot(footMm[0], footMm[1]) / heightMm;
  const z = 400;
  const wider = (SHAFT_MM * heightMm) / (heightMm - z) - SHAFT_MM;
  const away = (slope * z * heightMm) / (heightMm - z);
  expect(likely).toBeCloseTo(wider / away, 9);
});
