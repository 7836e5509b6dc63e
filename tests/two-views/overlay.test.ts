import { describe, expect, test } from 'vitest';
import type { SpotMm } from '../../src/face/coordinates.ts';
import type { Mark } from '../../src/marks/mark.ts';
import { matchPlaces } from '../../src/two-views/match-places.ts';
import { layUpon } from '../../src/two-views/overlay.ts';
import { placesOf, type Place } from '../../src/two-views/place.ts';
import { checkSameEnd } from '../../src/two-views/same-end.ts';

const place = (mm: SpotMm, about: Partial<Place> = {}): Place => ({
  spot: 0,
  mm,
  sdMm: 1,
  turnSdMm: 0,
  px: [0, 0],
  what: 'arrow',
  probability: 0.95,
  mark: null,
  ...about,
});
const turnedBy = (deg: number, [x, y]: SpotMm): SpotMm => {
  const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  return [x * c - y * s, x * s + y * c];
};
const END: readonly SpotMm[] = [
  [60, 20],
  [-35, 80],
  [-90, -40],
  [15, -120],
  [120, 95],
];
const same = (mm: SpotMm): SpotMm => mm;

describe('matching', () => {
  test('pairs are those that lie nearest all together, each place once', () => {
    // The first of the one photo is nearest to the second of the other, which is nearer still to another.
    const first = [place([0, 0]), place([3, 0])];
    const second = [place([2.2, 0]), place([4.4, 0])];
    const pairs = matchPlaces(first, second, same, 0).map((match) => [
      first.indexOf(match.first),
      second.indexOf(match.second),
    ]);
    expect(pairs).toEqual([
      [0, 0],
      [1, 1],
    ]);
  });

  test('places of other spots, or farther off than both can err, are other marks', () => {
    const first = [place([0, 0]), place([50, 0])];
    const second = [place([0, 0], { spot: 1 }), place([58, 0])];
    expect(matchPlaces(first, second, same, 0)).toEqual([]);
  });
});

describe('laying upon each other', () => {
  test.each([-30, 0, 12])('finds a turn of %d degrees from the arrows alone', (deg) => {
    const overlay = layUpon(
      END.map((mm) => place(mm)),
      END.map((mm) => place(turnedBy(-deg, mm))),
      15,
    );
    expect(overlay.turnDeg).toBeCloseTo(deg, 0);
    expect(overlay.matches).toHaveLength(END.length);
    expect(overlay.turnSd).toBeLessThan(0.02);
  });

  test('with nothing in common, "up" is as sure as the photos say', () => {
    const { turnDeg, turnSd, matches } = layUpon([], [], 4);
    expect(matches).toEqual([]);
    expect(turnDeg).toBeCloseTo(0, 9);
    expect((turnSd * 180) / Math.PI).toBeCloseTo(4, 9);
  });
});

describe('whether two photos show one end', () => {
  const first = END.map((mm) => place(mm));

  test('they do where most arrows are found again', () => {
    const second = END.slice(1).map((mm) => place([mm[0] + 0.8, mm[1] - 0.5]));
    expect(() => checkSameEnd(first, second, layUpon(first, second, 2))).not.toThrow();
  });

  test('they do not where hardly one is', () => {
    const other = END.map(([x, y]) => place([1.4 * x + 30, 30 - y]));
    expect(() => checkSameEnd(first, other, layUpon(first, other, 2))).toThrow('other arrows');
  });
});

test('the places of a photo: arrows, holes of less weight, and what was not counted where likely', () => {
  const mark: Mark = {
    id: 'm1',
    spot: 0,
    mm: [3, 4],
    px: [10, 20],
    sdMm: 2,
    radialSdMm: 0.5,
    state: 'hole',
    age: 'old',
    kind: 'unknown',
    confidence: 0.8,
  };
  const uncounted = { spot: 0, mm: [1, 1] as const, px: [5, 5] as const, sdMm: 1 };
  const [hole, perhaps, ...rest] = placesOf({
    marks: [mark, { ...mark, id: 'm2', px: null }],
    uncounted: [
      { ...uncounted, probability: 0.4 },
      { ...uncounted, probability: 0.01 },
    ],
  });
  expect(rest).toEqual([]);
  expect(hole).toMatchObject({ what: 'hole', sdMm: 0.5, mark: { id: 'm1' } });
  // The turn about the centre makes up the rest of the uncertainty: 2^2 = 0.5^2 + turn^2.
  expect(hole!.turnSdMm).toBeCloseTo(Math.sqrt(3.75), 12);
  expect(hole!.probability).toBeLessThan(0.1);
  expect(perhaps).toMatchObject({ what: 'perhaps', probability: 0.4, mark: null });
});
