import { expect, test } from 'vitest';
import { findStrips, widthAt, type Strip } from '../../../src/marks/standing/strips.ts';
import { drawnMap } from './drawn-map.ts';

const SIDE = 160;
const SHAFT = 6;

type End = readonly [number, number];

const endsOf = ({ x, y, angle, length }: Strip): [End, End] => [
  [x, y],
  [x + length * Math.cos(angle), y + length * Math.sin(angle)],
];

/** How far the farther one of a strip's ends is from where it was drawn, whichever is called its start. */
function misplaced(strip: Strip, from: End, to: End): number {
  const [a, b] = endsOf(strip);
  const away = (p: End, q: End) => Math.hypot(p[0] - q[0], p[1] - q[1]);
  return Math.min(Math.max(away(a, from), away(b, to)), Math.max(away(a, to), away(b, from)));
}

test.each([
  ['along a row', [30, 80], [130, 80]],
  ['steeply down', [60, 20], [85, 140]],
  ['to the upper left', [120, 130], [40, 40]],
] as const)('one strip that lies %s is found whole, and nothing beside it', (_, from, to) => {
  const strips = findStrips(drawnMap([{ from, to }], SIDE, SHAFT));
  expect(strips).toHaveLength(1);
  expect(misplaced(strips[0]!, from, to)).toBeLessThan(SHAFT);
  expect(strips[0]!.runsOut).toBe(false);
  const long = Math.hypot(to[0] - from[0], to[1] - from[1]) / SHAFT;
  expect(strips[0]!.gain).toBeGreaterThan(0.9 * long);
  expect(strips[0]!.gain).toBeLessThan(1.25 * (long + 1));
});

test('a cross is two strips, the longer one first, each going on behind the other', () => {
  const strips = findStrips(
    drawnMap(
      [
        { from: [20, 60], to: [140, 100] },
        { from: [90, 30], to: [60, 130] },
      ],
      SIDE,
      SHAFT,
    ),
  );
  expect(strips).toHaveLength(2);
  expect(misplaced(strips[0]!, [20, 60], [140, 100])).toBeLessThan(SHAFT);
  expect(misplaced(strips[1]!, [90, 30], [60, 130])).toBeLessThan(SHAFT);
});

test('a strip that grows wider is one with that taper, and one that leaves the picture runs out', () => {
  const [tapered] = findStrips(
    drawnMap([{ from: [20, 80], to: [140, 80], widening: 2 }], SIDE, SHAFT),
  );
  // From either end: it is a shaft wide at its start, and grows, or the strip is taken backwards.
  expect(Math.abs(tapered!.taper)).toBeGreaterThan(0.02);
  const [cut] = findStrips(drawnMap([{ from: [60, 80], to: [400, 80] }], SIDE, SHAFT));
  expect(cut!.runsOut).toBe(true);
});

test('specks shorter than three shafts are no strips', () => {
  const specks = [
    { from: [40, 40], to: [48, 40] },
    { from: [100, 60], to: [100, 68] },
  ] as const;
  expect(findStrips(drawnMap(specks, SIDE, SHAFT))).toEqual([]);
});

test('widths grow by the taper between the narrowest and the widest', () => {
  expect(widthAt(5, 0.1, 30)).toBeCloseTo(8, 9);
  expect(widthAt(5, -0.1, 30)).toBe(3);
  expect(widthAt(5, 1, 300)).toBe(25);
});
