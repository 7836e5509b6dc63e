import { describe, expect, it } from 'vitest';
import {
  ADJUSTER_PARTS,
  isReversed,
  partOf,
  PARTS,
  type Axis,
  type PartEntry,
} from '../../../src/tuning/bow/parts.ts';
import { restoreSheet } from '../../../src/tuning/bow/restore-sheet.ts';
import {
  adjusterSchema,
  type Adjuster,
  type Bow,
  type SetUp,
} from '../../../src/tuning/bow/set-up.ts';
import { changeWords, senseOf } from '../../../src/tuning/bow/setting-words.ts';
import { standardAdjusters } from '../../../src/tuning/bow/standard-adjusters.ts';
import { factorOf, LENGTHS, MASSES, WEIGHTS } from '../../../src/tuning/bow/units.ts';
import { slopePrior } from '../../../src/tuning/response/slope-prior.ts';

const entries = ADJUSTER_PARTS.map((part): [string, PartEntry] => [part, partOf(part)]);
const alike = (values: readonly unknown[]) => values.length - new Set(values).size;

describe('parts of a bow', () => {
  it('have each a place of its own in the order of the work', () => {
    expect(alike(entries.map(([, { work }]) => work))).toBe(0);
  });

  it.each(['horizontal', 'vertical'] satisfies Axis[])(
    'are each reached for in one place, %s',
    (axis) => {
      const tools = entries.flatMap(([, { tool }]) => (tool?.axis === axis ? [tool] : []));
      expect(tools.length).toBeGreaterThan(1);
      expect(alike(tools.map(({ within }) => within))).toBe(0);
      expect(alike(tools.map(({ beyond }) => beyond))).toBe(0);
    },
  );

  it('start on a new bow in a form that can be kept, in units that are known', () => {
    for (const adjuster of standardAdjusters()) {
      expect(adjusterSchema.parse(adjuster)).toEqual(adjuster);
      const { scale, part } = adjuster;
      if (scale.type !== 'number') continue;
      expect(factorOf(scale.unit, partOf(part).effect.per!)).toBe(1);
      const start = partOf(part).startsAt ?? scale.min!;
      expect(start >= scale.min! && start <= scale.max!).toBe(true);
    }
  });

  it('of which a field is missing do not compile', () => {
    const { work, ...without } = PARTS.plunger;
    // @ts-expect-error without its place in the order of the work
    const part: PartEntry = without;
    expect({ ...part, work }).toEqual(PARTS.plunger);
  });

  it('may be made to read the other way round', () => {
    const plunger = { part: 'plunger', higherIs: 'softer' } as const;
    expect(isReversed(plunger)).toBe(true);
    expect(senseOf(plunger, 1)).toBe('softer');
    expect(isReversed({ part: 'tiller', higherIs: 'softer' })).toBe(false);
  });
});

/*
 * International yard and pound agreement of 1959: an inch is 25.4 mm, a pound 0.45359237 kg and 7000
 * grains, exactly.
 */
describe('units', () => {
  it.each([
    ['in', LENGTHS, 25.4],
    [' CM ', LENGTHS, 10],
    ['kg', WEIGHTS, 1 / 0.45359237],
    ['g', MASSES, 7000 / 453.59237],
    ['', LENGTHS, 1],
  ] as const)('%s', (unit, units, factor) => {
    expect(factorOf(unit, units)! / factor).toBeCloseTo(1, 3);
  });

  it('that are not known have no factor, not even by the names of an object', () => {
    expect(factorOf('ticks', LENGTHS)).toBeNull();
    expect(factorOf('constructor', LENGTHS)).toBeNull();
  });

  it('leave open what a part does when they are not known', () => {
    const nock = (unit: string): Adjuster => ({
      id: 'nock',
      part: 'nocking-point',
      name: 'Nocking point',
      scale: { type: 'number', unit, step: 0.5 },
    });
    const inMm = slopePrior(nock('mm'), 'vertical', 'right');
    const inInches = slopePrior(nock('in'), 'vertical', 'right');
    expect(inInches.mean / inMm.mean).toBeCloseTo(25.4, 9);
    const own = slopePrior({ ...nock('ticks'), part: 'own' }, 'vertical', 'right');
    expect(slopePrior(nock('ticks'), 'vertical', 'right')).toEqual(own);
    expect(own.mean).toBe(0);
  });
});

// Common practice, no published source: archers write down where the clicker stands, because it sets how
// far they draw; a longer draw is a heavier one, under which the arrow acts weaker.
describe('the clicker', () => {
  const [clicker] = standardAdjusters().filter(({ part }) => part === 'clicker');
  const bow: Bow = {
    id: 'b',
    archerId: 'a',
    name: 'Long evening',
    hand: 'right',
    adjusters: standardAdjusters(),
    notes: '',
  };
  const setUp = (name: string, mm: number): SetUp => ({
    id: name,
    bowId: 'b',
    name,
    date: '2031-05-04T10:00:00Z',
    settings: {
      clicker: { type: 'number', value: mm },
      plunger: { type: 'dial', line: mm, mark: 0 },
    },
    preferredMrad: [0, 0],
    notes: '',
  });

  it('is on a new bow, and its changes have words', () => {
    expect(changeWords(clicker!, -2)).toBe('2 mm in');
  });

  it('makes the arrow act weaker the farther out it stands, either-handed', () => {
    expect(slopePrior(clicker!, 'horizontal', 'right').mean).toBeGreaterThan(0);
    expect(slopePrior(clicker!, 'horizontal', 'left').mean).toBeLessThan(0);
  });

  it('is put back before the plunger, with a look at the arrows', () => {
    const sheet = restoreSheet(bow, setUp('Spring', 4), setUp('May', 6));
    expect(sheet.work.slice(1, 3)).toEqual([
      'Clicker, in front of the plunger: set to 4 mm (now 6 mm: 2 mm in).',
      'Plunger: set to 4 lines, mark 0 (now 6 lines, mark 0: 20 clicks softer).',
    ]);
    expect(sheet.cautions.join(' ')).toMatch(/too weak.*flex every carbon shaft/);
  });
});
