import { describe, expect, test } from 'vitest';
import { sameArrows } from '../../src/trends/arrow-set.ts';
import type { Adjuster, Bow, Setting, SetUp } from '../../src/tuning/bow/set-up.ts';

const ADJUSTERS = [
  { id: 'spine', part: 'spine', name: 'Spine', scale: { type: 'number', unit: '', step: 10, min: 300, max: 1500 } }, // prettier-ignore
  { id: 'point', part: 'point-mass', name: 'Point', scale: { type: 'number', unit: 'grain', step: 5, min: 10, max: 500 } }, // prettier-ignore
  { id: 'brace', part: 'brace-height', name: 'Brace height', scale: { type: 'number', unit: 'mm', step: 1, min: 150, max: 280 } }, // prettier-ignore
] as const satisfies readonly Adjuster[];
const BOW: Bow = {
  id: 'blue',
  archerId: 'juna',
  name: 'Blue',
  hand: 'right',
  adjusters: [...ADJUSTERS],
  notes: '',
};

/** A set-up of the n-th day. */
function setUp(day: number, read: Partial<Record<'spine' | 'point' | 'brace', number>>): SetUp {
  const settings: Record<string, Setting> = Object.fromEntries(
    Object.entries(read).map(([id, value]) => [id, { type: 'number', value }]),
  );
  return {
    id: `day-${day}`,
    bowId: BOW.id,
    name: `Day ${day}`,
    date: `2031-05-${String(day).padStart(2, '0')}T18:00:00Z`,
    settings,
    preferredMrad: [0, 0],
    notes: '',
  };
}
const sets = (setUps: readonly SetUp[], day: number) =>
  [...sameArrows(BOW, setUps, `day-${day}`)].sort();

describe('arrow number 7 of one set-up and of another', () => {
  test('is the same arrow where only the bow was changed', () => {
    const setUps = [setUp(1, { spine: 600, brace: 210 }), setUp(2, { spine: 600, brace: 218 })];
    expect(sets(setUps, 2)).toEqual(['day-1', 'day-2']);
  });

  test('is another one of another spine or point, and the same again when they are back', () => {
    const setUps = [
      setUp(1, { spine: 600, point: 100 }),
      setUp(2, { spine: 500, point: 100 }),
      setUp(3, { spine: 600, point: 120 }),
      setUp(4, { spine: 600, point: 100 }),
    ];
    expect(sets(setUps, 1)).toEqual(['day-1', 'day-4']);
    expect(sets(setUps, 2)).toEqual(['day-2']);
    expect(sets(setUps, 3)).toEqual(['day-3']);
  });

  test('is not told apart by what was not read, which goes with the arrows of last', () => {
    const setUps = [setUp(1, { spine: 600 }), setUp(2, { spine: 500 }), setUp(3, {})];
    expect(sets(setUps, 3)).toEqual(['day-2', 'day-3']);
  });

  test('is known by what was read of its set later, whatever order the set-ups come in', () => {
    const setUps = [
      setUp(3, { spine: 600, point: 120 }),
      setUp(2, { point: 100 }),
      setUp(1, { spine: 600 }),
    ];
    expect(sets(setUps, 1)).toEqual(['day-1', 'day-2']);
    expect(sets(setUps, 3)).toEqual(['day-3']);
  });

  test('is known of a set-up that is not written down by itself alone', () => {
    expect(sets([setUp(1, { spine: 600 })], 9)).toEqual(['day-9']);
  });
});
