import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkBow, checkSetUp } from '../../../src/tuning/bow/check-set-up.ts';
import {
  plungerScaleOf,
  UNSAID_PLUNGER,
  unsaidOfPlunger,
  withPlungerScale,
} from '../../../src/tuning/bow/plunger-scale.ts';
import { preferredFromWords, preferredWords } from '../../../src/tuning/bow/preferred-offset.ts';
import { journeySheet } from '../../../src/tuning/bow/journey-sheet.ts';
import { restoreSheet } from '../../../src/tuning/bow/restore-sheet.ts';
import { setUpDifference } from '../../../src/tuning/bow/set-up-difference.ts';
import {
  bowSchema,
  setUpSchema,
  type Adjuster,
  type Setting,
} from '../../../src/tuning/bow/set-up.ts';
import { settingAmount, settingAt } from '../../../src/tuning/bow/setting-amount.ts';
import { changeWords } from '../../../src/tuning/bow/setting-words.ts';
import { standardAdjusters } from '../../../src/tuning/bow/standard-adjusters.ts';

const bow = bowSchema.parse({
  id: 'b1',
  archerId: 'a1',
  name: 'Long evening',
  hand: 'right',
  adjusters: [
    ...standardAdjusters(),
    { id: 'own-1', part: 'own', name: 'Short rod', scale: { type: 'number', unit: 'mm', step: 5 } },
  ],
});
const adjuster = (id: string) => bow.adjusters.find((one) => one.id === id)!;
const dial = (line: number, mark: number): Setting => ({ type: 'dial', line, mark });
const number = (value: number): Setting => ({ type: 'number', value });

function setUp(name: string, settings: Record<string, Setting>) {
  return setUpSchema.parse({
    id: name,
    bowId: 'b1',
    name,
    date: '2031-05-04T10:00:00Z',
    settings,
  });
}

describe('a two-number reading', () => {
  it('is clicks and back', () => {
    expect(settingAmount(adjuster('plunger'), dial(3, 5))).toBe(35);
    expect(settingAt(adjuster('plunger'), 35)).toEqual(dial(3, 5));
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 40 }), fc.nat(400), (positionsPerLine, clicks) => {
        const scale = { scale: { type: 'dial' as const, positionsPerLine } };
        const setting = settingAt(scale, clicks);
        expect(settingAmount(scale, setting)).toBe(clicks);
        expect(setting.type === 'dial' && setting.mark < positionsPerLine).toBe(true);
      }),
    );
  });

  it('says stiffer and softer whichever way the dial counts', () => {
    const plunger = adjuster('plunger');
    expect(changeWords(plunger, 3)).toBe('3 clicks stiffer');
    expect(changeWords({ ...plunger, higherIs: 'softer' }, 1)).toBe('1 click softer');
    expect(changeWords(adjuster('nocking-point'), -0.5)).toBe('0.5 mm lower');
  });

  it('stays within the range of its adjuster', () => {
    expect(settingAt(adjuster('plunger'), -4)).toEqual(dial(0, 0));
    expect(settingAt(adjuster('plunger'), 999)).toEqual(dial(10, 0));
    expect(settingAt(adjuster('nocking-point'), 8.3)).toEqual(number(8.5));
    expect(settingAt(adjuster('plunger-spring'), 9)).toEqual({ type: 'choice', choice: 'stiff' });
  });
});

describe('checkSetUp', () => {
  it.each([
    ['plunger', dial(3, 10), /10 positions per line, so its mark is 0 to 9, not 10/],
    ['plunger', dial(3, -1), /0 to 9/],
    ['plunger', dial(11, 0), /has 10 lines/],
    ['plunger', number(3), /lines that show/],
    ['brace-height', number(-220), /Brace height: -220 mm cannot be/],
    ['nocking-point', number(60), /above 40/],
    ['plunger-spring', { type: 'choice', choice: 'hard' }, /soft, medium, stiff/],
    ['sight', number(1), /no adjuster "sight"/],
  ] as const)('refuses %s at %o', (id, setting, message) => {
    const problems = checkSetUp(bow, setUp('x', { [id]: setting }));
    expect(problems).toHaveLength(1);
    expect(problems[0]!.message).toMatch(message);
  });

  it('accepts what can be', () => {
    const fine = setUp('x', {
      plunger: dial(3, 9),
      tiller: number(-2),
      'own-1': number(300),
      'plunger-spring': { type: 'choice', choice: 'medium' },
    });
    expect(checkSetUp(bow, fine)).toEqual([]);
    expect(checkBow(bow)).toEqual([]);
    expect(checkBow({ ...bow, adjusters: [adjuster('tiller'), adjuster('tiller')] })).toHaveLength(
      1,
    );
  });
});

describe('setUpDifference and restoreSheet', () => {
  const old = setUp('Spring', {
    plunger: dial(3, 5),
    'nocking-point': number(8),
    tiller: number(4),
  });
  const now = setUp('May', {
    plunger: dial(4, 1),
    'nocking-point': number(8),
    'brace-height': number(222),
  });

  it('names what differs and by how much', () => {
    expect(setUpDifference(bow, old, now).map((d) => [d.name, d.from, d.to, d.change])).toEqual([
      ['Plunger', '3 lines, mark 5', '4 lines, mark 1', 6],
      ['Tiller, upper minus lower', '4 mm', 'not read', null],
      ['Brace height', 'not read', '222 mm', null],
    ]);
    expect(setUpDifference(bow, old, old)).toEqual([]);
  });

  it('lists the work from the limbs to the plunger, with the cautions', () => {
    const sheet = restoreSheet(bow, old, now);
    expect(sheet.values.map((value) => value.name)).toEqual([
      'Tiller, upper minus lower',
      'Nocking point above square',
      'Plunger',
    ]);
    expect(sheet.work.join('\n')).toMatch(/Tiller[^\n]+\nPlunger: set to 3 lines, mark 5 \(now 4 lines, mark 1: 6 clicks softer\)/); // prettier-ignore
    expect(sheet.work.join('\n')).not.toMatch(/Nocking point above square: set/);
    expect(sheet.cautions.join(' ')).toMatch(
      /Main thread first, then the lock nut: snug and never/,
    );
    expect(restoreSheet(bow, old, old).work.join(' ')).toMatch(/nothing to change/);
  });
});

describe('how a plunger is read', () => {
  const said = { readBy: 'dial', marksATurn: 8, higherIs: 'softer' } as const;
  const plungerOf = (adjusters: readonly Adjuster[]) =>
    adjusters.find(({ part }) => part === 'plunger')!;

  it('is as it was said, and turns what a click does around where the dial counts softer', () => {
    const adjusters = withPlungerScale(standardAdjusters(), said);
    expect(plungerScaleOf(adjusters)).toEqual(said);
    expect(changeWords(plungerOf(adjusters), 3)).toBe('3 clicks softer');
    expect(settingAmount(plungerOf(adjusters), dial(2, 1))).toBe(17);
    expect(unsaidOfPlunger(said)).toBeNull();
    const turns = withPlungerScale(standardAdjusters(), { ...said, readBy: 'turns' });
    expect(plungerScaleOf(turns)).toEqual({
      readBy: 'turns',
      marksATurn: null,
      higherIs: 'softer',
    });
    expect(changeWords(plungerOf(turns), -0.5)).toBe('0.5 turns stiffer');
    expect(checkBow({ ...bow, adjusters: turns })).toEqual([]);
    expect(standardAdjusters().length).toBe(turns.length);
  });

  it('says what is taken for granted while nobody said it', () => {
    expect(withPlungerScale(standardAdjusters(), UNSAID_PLUNGER)).toEqual(standardAdjusters());
    expect(unsaidOfPlunger(UNSAID_PLUNGER)).toBe(
      'Not said, so taken as usual: read by lines and a dial, 10 marks a turn, a higher number is stiffer.',
    );
    expect(plungerScaleOf([])).toBeNull();
  });
});

describe('a journey sheet', () => {
  it('has every reading to check on arrival in the order of the work, and what nobody measured', () => {
    const now = setUp('May', {
      plunger: dial(4, 1),
      'nocking-point': number(8),
      'brace-height': number(222),
    });
    const sheet = journeySheet(bow, now);
    expect(sheet.arrival.filter((step) => step.includes('still'))).toEqual([
      'Brace height: still 222 mm?',
      'Nocking point above square: still 8 mm?',
      'Plunger: still 4 lines, mark 1?',
    ]);
    expect(sheet.unread).toContain('Draw weight at full draw');
    expect(sheet.unread).not.toContain('Plunger');
    expect([...sheet.unread, ...sheet.values].length).toBe(bow.adjusters.length);
    expect(sheet.before.join(' ')).toContain(sheet.unread.join(', '));
    const { settings } = setUp('all', {});
    expect(journeySheet({ ...bow, adjusters: [] }, { ...now, settings }).before).toHaveLength(4);
  });
});

describe('a preferred offset in words', () => {
  it.each([
    ['a little high and weak', 'right', [1, 1]],
    ['a little high and weak', 'left', [-1, 1]],
    ['high and a little stiff', 'right', [-1, 2]],
    ['well low', 'right', [0, -4]],
    ['level', 'left', [0, 0]],
  ] as const)('%s, %s-handed', (words, hand, mrad) => {
    expect(preferredFromWords(words, hand)).toEqual(mrad.map((value) => value + 0));
    expect(preferredWords(mrad, hand)).toBe(words);
  });

  it('comes back the same from any offset, and is null for other words', () => {
    const axis = fc.constantFrom(0, 1, 2, 4, -1, -2, -4);
    fc.assert(
      fc.property(axis, axis, fc.constantFrom('right' as const, 'left' as const), (x, y, hand) => {
        expect(preferredFromWords(preferredWords([x, y], hand), hand)).toEqual([x, y]);
      }),
    );
    expect(preferredFromWords('sideways', 'right')).toBeNull();
    expect(preferredFromWords('high and low', 'right')).toBeNull();
  });
});
