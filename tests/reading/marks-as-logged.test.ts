import { expect, it } from 'vitest';
import { arrowsOfMarks } from '../../src/reading/arrows-of-marks.ts';
import { marksAsLogged } from '../../src/reading/marks-as-logged.ts';
import { readingOfTruth } from '../drawing/reading-of-truth.ts';

it('puts arrows that were corrected in the log onto the marks of the photo', () => {
  const { reading } = readingOfTruth('fresh-02');
  const [first, second, third, ...rest] = reading.marks;
  const [old] = rest;
  const marks = reading.marks.map((mark) => ({
    ...mark,
    age: mark === old ? ('old' as const) : mark.age,
  }));
  const arrows = arrowsOfMarks(marks);
  expect(marksAsLogged({ ...reading, marks }, arrows)).toEqual([
    ...marks.filter(({ age }) => age === 'old'),
    ...marks.filter(({ age }) => age !== 'old'),
  ]);

  const logged = [
    { ...arrows[0]!, kind: 'unknown' as const },
    // Moved to where the third is, whose place in the photo is known.
    { ...arrows[1]!, mm: third!.mm as [number, number], spot: third!.spot },
    { ...arrows[2]!, id: 'typed-in', sdMm: undefined },
  ];
  const now = marksAsLogged({ ...reading, marks }, logged);
  expect(now.map(({ id }) => id)).toEqual([old!.id, first!.id, second!.id, 'typed-in']);
  expect(now[1]).toEqual({ ...first, kind: 'unknown', kindFrom: null });
  for (const axis of [0, 1] as const) {
    expect(now[2]!.px![axis]).toBeCloseTo(third!.px![axis], 0);
    expect(now[3]!.px![axis]).toBeCloseTo(third!.px![axis], 0);
  }
  expect(now[3]).toMatchObject({ sdMm: 1, age: 'fresh', kind: third!.kind });
});

it('keeps no guessed tag in the log, and a guess stands until somebody says it there', () => {
  const { reading } = readingOfTruth('fresh-02');
  const marks = reading.marks.map((mark) => ({ ...mark, kindFrom: 'pattern' as const }));
  const arrows = arrowsOfMarks(marks);
  expect(new Set(arrows.map(({ kind }) => kind))).toEqual(new Set(['unknown']));
  expect(marksAsLogged({ ...reading, marks }, arrows)).toEqual(marks);
  const said = arrows.map((arrow) => ({ ...arrow, kind: 'bare' as const }));
  const now = marksAsLogged({ ...reading, marks }, said);
  expect(now.every(({ kind, kindFrom }) => kind === 'bare' && kindFrom === 'person')).toBe(true);
});
