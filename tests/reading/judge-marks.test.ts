import { expect, test } from 'vitest';
import type { Mark } from '../../src/marks/mark.ts';
import { arrowsOfMarks } from '../../src/reading/arrows-of-marks.ts';
import { judgeMarks } from '../../src/reading/judge-marks.ts';

const mark = (id: string, mm: readonly [number, number], about: Partial<Mark> = {}): Mark => ({
  id,
  spot: 0,
  mm,
  px: [0, 0],
  sdMm: 0.4,
  state: 'hole',
  age: 'fresh',
  kind: 'fletched',
  confidence: 0.95,
  ...about,
});
const END = [
  mark('a', [10, 0]),
  mark('b', [-10, 20]),
  mark('c', [0, -20]),
  mark('d', [0, 120], { kind: 'bare' }),
  mark('old', [500, 500], { age: 'old' }),
];
const endAt = (distanceM: number | undefined) => ({
  face: 'wa80' as const,
  marks: END,
  request: { hand: 'right' as const, preferredMrad: [0, 0] as [number, number], distanceM },
});

// Worked by hand: the fletched centre is (0, 0), the bare shaft 120 mm above it; by the line rule
// (World Archery rule book, Book 2) arrows within 40 mm of the 80 cm face's centre count ten, all three
// touch the inner ten's 20 mm with their shafts of 3 mm's radius, and at 120 mm a shaft counts eight.
test('an end is scored and read, its old marks left out of both', () => {
  const { marks, score, groups } = judgeMarks(endAt(30), 6);
  expect(score).toEqual({
    total: 10 + 10 + 10 + 8,
    inners: 3,
    arrows: 4,
    tieBreak: { of: 'X', count: 3 },
  });
  expect(marks.map(({ zone }) => zone)).toEqual([10, 10, 10, 8, 0]);
  expect(groups.fletched!.n).toBe(3);
  expect(groups.offset!.mm.map(Math.round)).toEqual([0, 120]);
  // An angle of 120 mm in 30 m.
  expect(groups.offset!.mrad![1]).toBeCloseTo(4, 9);
});

test('no distance, no angle', () => {
  const { groups } = judgeMarks(endAt(undefined), 6);
  expect(groups.offset!.mrad).toBeNull();
});

test('the log keeps the arrows of this end, and of them what it needs', () => {
  const { marks } = judgeMarks(endAt(30), 6);
  const arrows = arrowsOfMarks(marks);
  expect(arrows.map(({ id }) => id)).toEqual(['a', 'b', 'c', 'd']);
  expect(arrows[3]).toEqual({
    id: 'd',
    mm: [0, 120],
    sdMm: 0.4,
    spot: 0,
    kind: 'bare',
    zone: 8,
    inner: false,
  });
});
