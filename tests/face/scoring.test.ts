import { describe, expect, it } from 'vitest';
import { FACES, type FaceId } from '../../src/face/faces.ts';
import { zoneAt } from '../../src/face/line-rule.ts';
import { scoredFace, scoringOf, SCORINGS, type Scoring } from '../../src/face/scoring.ts';
import type { SpotMm } from '../../src/face/coordinates.ts';
import { tieBreakOf, tieBreakWords } from '../../src/marks/tie-break.ts';

const valueAt = (id: FaceId, scoring: Scoring, mm: number, shaftMm = 0) =>
  zoneAt(scoredFace(FACES[id], scoring), [mm, 0] as unknown as SpotMm, shaftMm);

/*
 * Five zones: "Gold 9, Red 7, Blue 5, Black 3, White 1" (archersofteme.org.uk, information on scoring;
 * rickyarchers.co.uk, scoring; the same in ctra.uk, archery rounds: zones by the coloured circles alone).
 */
describe('five zones, as shot on imperial rounds', () => {
  it.each([
    ['gold, inner and outer', [0, 61, 122], 9],
    ['red', [123, 183, 244], 7],
    ['blue', [245, 305, 366], 5],
    ['black', [367, 427, 488], 3],
    ['white', [489, 549, 610], 1],
    ['off the face', [611], 0],
  ])('gives %s its value on the 122 cm face', (_colour, places, value) => {
    for (const mm of places) expect(valueAt('wa122', 'five-zones', mm).value).toBe(value);
  });

  it('has no inner ten, and gives a shaft that touches a line the higher value', () => {
    expect(valueAt('wa122', 'five-zones', 0).inner).toBe(false);
    expect(valueAt('wa122', 'five-zones', 125, 6).value).toBe(9);
    expect(valueAt('wa122', 'five-zones', 125.1, 6).value).toBe(7);
  });

  it('counts the zones that a smaller print has left', () => {
    expect(valueAt('wa80-5', 'five-zones', 200).value).toBe(5);
    expect(valueAt('wa80-5', 'five-zones', 201).value).toBe(0);
  });
});

/*
 * Inner ten only: the inner ring "becomes the 10 ring at indoor compound competitions" (encyclopaedia text
 * on scoring in archery); "only the inner 10 ring counts 10 for a compound archer, and for them moving out
 * to 9 for the inner gold and outer gold rings" (thebpaa.co.uk, indoor rounds).
 */
describe('inner ten only, as compound bows are scored indoors', () => {
  it.each([
    [0, 10],
    [10, 10],
    [10.1, 9],
    [20, 9],
    [40, 9],
    [40.1, 8],
    [200, 1],
    [200.1, 0],
  ])('values %s mm on the 40 cm face as %s', (mm, value) => {
    expect(valueAt('wa40', 'inner-ten', mm).value).toBe(value);
  });
});

describe('which rule holds', () => {
  it('leaves field faces to their own print', () => {
    for (const id of ['field-40', 'ifaa50', 'ifaa40-indoor'] as const) {
      expect(scoringOf(FACES[id], 'five-zones')).toBe('as-printed');
      expect(scoredFace(FACES[id], 'inner-ten')).toBe(FACES[id]);
    }
  });

  it('changes nothing where the face is scored as printed', () => {
    expect(scoredFace(FACES.wa80, 'as-printed')).toBe(FACES.wa80);
  });
});

/*
 * Outdoors the inner ring "serves as a tiebreaker" (encyclopaedia text on scoring in archery), written
 * X; with five zones "golds are 9s and there are no Xs" (bluearrows.org.uk, scoring).
 */
describe('the count that parts equal totals', () => {
  const arrows = [
    { zone: 10, inner: true },
    { zone: 10, inner: false },
    { zone: 9, inner: false },
  ];
  it.each([
    ['as-printed', '1 X'],
    ['inner-ten', '2 tens'],
    ['five-zones', '1 gold'],
  ] as const)('%s: %s', (scoring, words) => {
    expect(tieBreakWords(tieBreakOf(arrows, scoring))).toBe(words);
    expect(SCORINGS[scoring].name).toMatch(/\w/);
  });
  it('is not spoken of where there is none', () => {
    expect(tieBreakWords(tieBreakOf([], 'as-printed'))).toBeNull();
  });
});
