import { expect, it } from 'vitest';
import type { SpotMm } from '../../src/face/coordinates.ts';
import type { Mark } from '../../src/marks/mark.ts';
import { arrowsOfMarks } from '../../src/reading/arrows-of-marks.ts';
import { marksAsLogged } from '../../src/reading/marks-as-logged.ts';
import { withArrowNumbers } from '../../src/reading/with-kinds.ts';
import { arrowNumbers } from '../../server/reading/arrow-numbers.ts';

const marks = (['fletched', 'fletched', 'bare', 'fletched'] as const).map((kind, i): Mark => ({
  id: `m${i + 1}`,
  spot: 0,
  mm: [i, i] as unknown as SpotMm,
  px: null,
  sdMm: 0.4,
  state: 'hole',
  age: i === 3 ? 'old' : 'fresh',
  kind,
  confidence: 1,
}));

const numbered = (text: string) =>
  withArrowNumbers(marks, arrowNumbers(text)).map((mark) => mark.arrowNumber);

it('gives marks the numbers that were said, and no other', () => {
  expect(numbered('2=7,m1=11')).toEqual(['11', '7', undefined, undefined]);
  expect(numbered('')).toEqual([undefined, undefined, undefined, undefined]);
});

it('lets a bare shaft have the number of a fletched arrow, and an end each arrow once', () => {
  expect(numbered('1=7 3=7')).toEqual(['7', undefined, '7', undefined]);
  expect(() => numbered('1=7,2=7')).toThrow('Marks 1 and 2 both have the number 7');
  expect(() => numbered('1=7,1=8')).toThrow('Mark 1 has two numbers, 7 and 8');
});

it('refuses a mark that is not of this end', () => {
  for (const text of ['4=7', '9=7']) {
    expect(() => numbered(text)).toThrow(/There is no mark \d of this end: 3 were found/);
  }
});

it('goes to the log and comes back from it, also where it was corrected there', () => {
  const scored = withArrowNumbers(marks, arrowNumbers('1=7,3=2')).map((mark) => ({
    ...mark,
    zone: 9,
    inner: false,
    lineCall: null,
  }));
  const arrows = arrowsOfMarks(scored);
  expect(arrows.map((arrow) => arrow.arrowNumber)).toEqual(['7', undefined, '2']);
  expect(arrows[1]).not.toHaveProperty('arrowNumber');
  const fit = { residualMm: 0, tiltDeg: 0, spots: [], notes: [] };
  const corrected = arrows.map((arrow, i) => ({
    ...arrow,
    arrowNumber: i === 0 ? undefined : '5',
  }));
  const back = marksAsLogged({ fit, marks: [...scored] }, corrected);
  expect(back.map(({ id, arrowNumber }) => [id, arrowNumber])).toEqual([
    ['m4', undefined],
    ['m1', undefined],
    ['m2', '5'],
    ['m3', '5'],
  ]);
});
