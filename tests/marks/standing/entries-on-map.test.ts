import { expect, test } from 'vitest';
import {
  entriesOnMap,
  type EntryBelief,
  type FoundEntry,
} from '../../../src/marks/standing/entries-on-map.ts';
import type { ShaftMap } from '../../../src/marks/standing/shaft-map.ts';
import { drawnMap, type DrawnStrip } from './drawn-map.ts';

const SIDE = 200;
const SHAFT = 5;

const mapOf = (strips: readonly DrawnStrip[]) => drawnMap(strips, SIDE, SHAFT);

/** Arrows point to the right, some degrees up or down. */
const belief: EntryBelief = {
  mayEnter: (x, y) => x > 1 && y > 1 && x < SIDE - 1 && y < SIDE - 1,
  direction: (_x, _y, angle) => Math.max(-7, 2 - Math.sin(angle / 2) ** 2 * 80),
  taper: () => [0, 0, 0.01],
  logOdds: ({ gain, behind, farBehind, direction }) =>
    -3 + 2 * Math.log(1 + gain) - 5 * behind - 3 * farBehind + 0.7 * direction,
};

const likely = (map: ShaftMap): FoundEntry[] =>
  entriesOnMap(map, [], belief).filter(({ logOdds }) => logOdds > 0);

function expectAt(
  found: readonly FoundEntry[],
  places: readonly (readonly [number, number])[],
): void {
  expect(found).toHaveLength(places.length);
  for (const [x, y] of places) {
    const near = Math.min(...found.map((one) => Math.hypot(one.x - x, one.y - y)));
    expect(near).toBeLessThan(0.8 * SHAFT);
  }
}

test('an arrow enters at the end from which the others point away too', () => {
  expectAt(likely(mapOf([{ from: [40, 100], to: [180, 110] }])), [[40, 100]]);
});

test('a broken strip is one arrow', () => {
  const gaps = [
    [20, 32],
    [70, 80],
  ] as const;
  expectAt(likely(mapOf([{ from: [40, 100], to: [180, 110], gaps }])), [[40, 100]]);
});

test('strips that run into one another are as many arrows as entries', () => {
  expectAt(
    likely(
      mapOf([
        { from: [30, 80], to: [190, 100] },
        { from: [35, 125], to: [190, 102] },
        { from: [60, 60], to: [190, 84] },
      ]),
    ),
    [
      [30, 80],
      [35, 125],
      [60, 60],
    ],
  );
});

test('nothing is made of an empty map', () => {
  expect(entriesOnMap(mapOf([]), [], belief)).toEqual([]);
});

test('an arrow that is thinner than told, and dark at its front, is found from its peak of heat', () => {
  const entry = new Float32Array(SIDE * SIDE);
  for (const [x, y] of [
    [40, 100],
    [39, 100],
    [40, 99],
  ] as const) {
    entry[y * SIDE + x] = 0.5;
  }
  const thin = drawnMap([{ from: [48, 100.5], to: [180, 110] }], SIDE, 2);
  const map: ShaftMap = { ...thin, shaft: SHAFT, part: 0.5, entry };
  const found = entriesOnMap(map, [[40.5, 100.5]], {
    ...belief,
    logOdds: ({ gain, heat, behind }) => -4 + 2 * Math.log(1 + gain) + 8 * heat - 5 * behind,
  }).filter(({ logOdds }) => logOdds > 0);
  expectAt(found, [[40.5, 100.5]]);
});

/** Where its own heat is strong an arrow enters; what leads ahead matters little. */
const beliefInHeat: EntryBelief = {
  ...belief,
  logOdds: ({ gain, heat, behind }) => -3 + 10 * heat + 0.3 * Math.log(1 + gain) - 4 * behind,
};

/** A map of two strips of which the second lies on the first, and the heat of both entries. */
function onAnother(second: readonly [number, number]): ShaftMap {
  const map = mapOf([
    { from: [30, 80], to: [190, 100] },
    { from: second, to: [190, 100] },
  ]);
  const entry = new Float32Array(SIDE * SIDE);
  for (const [x, y] of [[30, 80], second] as const) entry[y * SIDE + x] = 0.6;
  return { ...map, entry };
}

const inHeat = (map: ShaftMap, second: readonly [number, number]): FoundEntry | undefined =>
  entriesOnMap(map, [[30.5, 80.5], second], beliefInHeat)
    .filter(({ logOdds }) => logOdds > 0)
    .find(({ x, y }) => Math.hypot(x - second[0], y - second[1]) < 0.8 * SHAFT);

test('an entry is found by its heat where the strip of another explains all that leads from it', () => {
  const second = [86, 87] as const;
  expect(inHeat(onAnother(second), second)).toBeDefined();
});
