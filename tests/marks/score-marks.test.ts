import { expect, test } from 'vitest';
import { FACES } from '../../src/face/faces.ts';
import type { Mark } from '../../src/marks/mark.ts';
import { scoreMarks } from '../../src/marks/score-marks.ts';

const mark = (x: number, change: Partial<Mark> = {}): Mark => ({
  id: 'm1',
  spot: 0,
  mm: [x, 0],
  px: [0, 0],
  sdMm: 0.5,
  state: 'hole',
  age: 'fresh',
  kind: 'unknown',
  confidence: 1,
  ...change,
});

// The line rule: a shaft that touches a line counts the higher zone, and the line lies inside it
// (World Archery rule book, Book 2, in a published summary).
test('values marks by the line rule and leaves old ones out of the total', () => {
  const { marks, score } = scoreMarks(
    [mark(20), mark(42.9), mark(43.1), mark(500), mark(10, { age: 'old' })],
    FACES.wa80,
    6,
  );
  expect(marks.map((m) => m.zone)).toEqual([10, 10, 9, 0, 10]);
  expect(marks.map((m) => m.inner)).toEqual([true, false, false, false, true]);
  expect(score).toEqual({ total: 29, inners: 1, arrows: 4, tieBreak: { of: 'X', count: 1 } });
});

test('says how likely the neighbouring value is, and nothing when it is out of the question', () => {
  const call = (x: number) => scoreMarks([mark(x)], FACES.wa80, 6).marks[0]!.lineCall;
  // The inner edge half a millimetre, one sigma, outside the 10: 15.9 % that it is in.
  expect(call(43.5)).toMatchObject({ zone: 10 });
  expect(call(43.5)!.p).toBeCloseTo(0.1587, 3);
  expect(call(42.5)).toMatchObject({ zone: 9 });
  expect(call(42.5)!.p).toBeCloseTo(0.1587, 3);
  expect(call(60)).toBeNull();
  // Not knowing which way is up makes no line less certain.
  const turnedAbout = mark(43.5, { sdMm: 6, radialSdMm: 0.5 });
  expect(scoreMarks([turnedAbout], FACES.wa80, 6).marks[0]!.lineCall!.p).toBeCloseTo(0.1587, 3);
  // Beside the face's edge the neighbour is a miss.
  expect(call(402.8)).toMatchObject({ zone: 0 });
  expect(call(403.2)).toMatchObject({ zone: 1 });
});
