import { expect, test } from 'vitest';
import {
  entriesOnMap,
  type EntryBelief,
  type FoundEntry,
} from '../../../src/marks/standing/entries-on-map.ts';
import type { ShaftMap } from '../../../src/marks/standing/shaft-map.ts';

const SIDE = 200;
const SHAFT = 5;

interface Drawn {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  /** Stretches, in cells from the start, where nothing is seen. */
  readonly gaps?: readonly (readonly [number, number])[];
}

/** A map of strips as wide as a shaft. */
function mapOf(strips: readonly Drawn[]): ShaftMap {
  const covered = new Float32Array(SIDE * SIDE);
  for (const { from, to, gaps = [] } of strips) {
    const long = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const [ux, uy] = [(to[0] - from[0]) / long, (to[1] - from[1]) / long];
    for (let y = 0; y < SIDE; y++) {
      for (let x = 0; x < SIDE; x++) {
        const ahead = (x + 0.5 - from[0]) * ux + (y + 0.5 - from[1]) * uy;
        const beside = Math.abs((x + 0.5 - from[0]) * uy - (y + 0.5 - from[1]) * ux);
        if (ahead < -SHAFT / 2 || ahead > long || beside > SHAFT / 2) continue;
        if (gaps.some(([a, b]) => ahead > a && ahead < b)) continue;
        covered[y * SIDE + x] = 1;
      }
    }
  }
  return {
    width: SIDE,
    height: SIDE,
    pxPerCell: 2,
    shaft: SHAFT,
    covered,
    part: 1,
    entry: null,
    vane: null,
    seen: new Uint8Array(SIDE * SIDE).fill(1),
  };
}

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
