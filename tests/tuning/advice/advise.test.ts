import { describe, expect, test } from 'vitest';
import { advise, isWeak, type Findings } from '../../../src/tuning/advice/advise.ts';
import type { AxisVerdict } from '../../../src/tuning/advice/axis-verdict.ts';
import type { Proposal } from '../../../src/tuning/advice/proposal.ts';
import { CAUTIONS } from '../../../src/tuning/bow/cautions.ts';
import { METRIC } from '../../../src/words/units.ts';
import { spokenIn } from '../../../src/words/spoken-in.ts';
import { ENGLISH, wordsOf } from '../../../src/words/words.ts';

const there: AxisVerdict = { sign: 0, certainty: 'likely', p: 0.9, worthAChange: false };
const off = (
  sign: 1 | -1,
  certainty: AxisVerdict['certainty'] = 'sure',
  p = { sure: 0.97, likely: 0.9, undecided: 0.6 }[certainty],
): AxisVerdict => ({ sign, certainty, p, worthAChange: true });

const NOTHING: Findings = {
  hand: 'right',
  vertical: there,
  horizontal: there,
  beyondPlate: { vertical: false, horizontal: false },
  fletchedForm: { verdict: 'usual', ratio: 1, p: 0.5, meaning: 'As usual.' },
  shootMore: null,
  isMoreEnough: null,
  proposals: [],
  leftToThumb: { vertical: 'all', horizontal: 'all' },
};
const advised = (findings: Partial<Findings>, words = ENGLISH) =>
  advise({ ...NOTHING, ...findings }, words);
const actions = (findings: Partial<Findings>, words = ENGLISH) =>
  advised(findings, words).map(({ action }) => action);

const CLICKS: Proposal = {
  axis: 'horizontal',
  kind: 'step',
  adjusterId: 'plunger',
  part: 'plunger',
  name: 'Plunger',
  unit: 'clicks',
  change: 3,
  interval: [2, 5],
  pLands: 0.7,
  words: 'about 3 clicks stiffer (2 to 5)',
  reason: 'It rests on 6 ends.',
  endIds: [],
};

/*
 * Bare shafts high: nocking point low; for a right-handed archer bare shafts right: weak, so stiffer
 * (common practice, no published source).
 */
describe('what to do about bare shafts', () => {
  test('that are where they are wanted: nothing', () => {
    expect(advised({}).map(({ kind }) => kind)).toEqual(['leave']);
    expect(advised({})[0]!.reason).toMatch(/where you want them/);
    // A side that is hardly beside what is wanted is none to change anything for.
    const near = advised({ vertical: { ...off(1, 'likely'), worthAChange: false } });
    expect(near.map(({ kind }) => kind)).toEqual(['leave']);
    expect(near[0]!.reason).toMatch(/as likely harm as help/);
  });

  test.each([
    [1, /^Raise the nocking point by half a millimetre/, /higher .* nocking point low\./],
    [-1, /^Lower the nocking point by half a millimetre/, /lower .* nocking point high\./],
  ] as const)('vertically %i', (sign, action, reason) => {
    const [first, second, ...rest] = advised({ vertical: off(sign) });
    expect(first!.action).toMatch(action);
    expect(first!.reason).toMatch(reason);
    expect(first!.reason).toMatch(/sure \(97.?%\)/);
    expect(first!.cautions).toEqual([CAUTIONS.nockingPoint]);
    expect(second).toMatchObject({ kind: 'shoot', cautions: [CAUTIONS.bareShafts] });
    expect(rest).toEqual([]);
  });

  test.each([
    [1, 'right', 'stiffer'],
    [-1, 'right', 'softer'],
    [1, 'left', 'softer'],
    [-1, 'left', 'stiffer'],
  ] as const)('sideways %i of a %s-handed archer', (sign, hand, how) => {
    const [first] = advised({ hand, horizontal: off(sign) });
    expect(first!.action).toBe(`Make the plunger ${how} by two clicks or so.`);
    expect(first!.reason).toContain(how === 'stiffer' ? 'archer weak' : 'archer stiff');
    expect(first!.cautions).toEqual([CAUTIONS.lockParts]);
    expect(isWeak({ sign }, hand)).toBe(how === 'stiffer');
  });

  test('in inches, as parts of one, where lengths are in inches', async () => {
    const inches = wordsOf({
      ...(await spokenIn('en')),
      units: { ...METRIC, length: 'in' },
    });
    expect(actions({ vertical: off(1) }, inches)[0]).toBe(
      'Raise the nocking point by 1/64 to 1/32 in.',
    );
  });

  test('both ways: vertical first, and arrows between the changes', () => {
    expect(actions({ vertical: off(1), horizontal: off(1) })).toEqual([
      expect.stringMatching(/nocking point/),
      'Shoot fletched arrows and bare shafts again, and only then make the next change.',
      expect.stringMatching(/plunger/),
      'Shoot fletched arrows and bare shafts again.',
    ]);
  });

  test('never sounds surer than 99 %', () => {
    expect(advised({ vertical: off(1, 'sure', 0.9999) })[0]!.reason).toMatch(/sure \(99.?%\)/);
  });
});

describe('what a small change does not trim', () => {
  test.each([
    [1, 'too weak', /Take a little draw weight off/],
    [-1, 'too stiff', /Add a little draw weight/],
  ] as const)('sideways %i: the arrow may be %s', (sign, words, action) => {
    const [first] = advised({
      horizontal: off(sign),
      beyondPlate: { vertical: false, horizontal: true },
    });
    expect(first!.action).toMatch(action);
    expect(first!.action).toContain(words);
    // A weak arrow breaks, and limb bolts come out.
    expect(first!.cautions).toEqual([CAUTIONS.weakArrow, CAUTIONS.limbBolts, CAUTIONS.carbon]);
  });

  test('vertically: square first, then steps, then the tiller, with a coach', () => {
    const [first] = advised({ vertical: off(-1), leftToThumb: { vertical: 'rest', horizontal: 'all' } }); // prettier-ignore
    expect(first!.action).toMatch(/against square first; then lower it in steps of 1 mm.*tiller/);
    expect(first!.cautions).toEqual([CAUTIONS.limbBolts, CAUTIONS.nockingPoint, CAUTIONS.coach]);
  });
});

describe('with a log that knows the bow', () => {
  test('its step is the one change, by its own words and reason', () => {
    const [first, second, ...rest] = advised({
      vertical: off(1),
      horizontal: off(1),
      proposals: [CLICKS],
    });
    expect(first).toMatchObject({
      kind: 'adjust',
      adjuster: 'Plunger',
      action: 'Plunger: about 3 clicks stiffer (2 to 5).',
      cautions: [CAUTIONS.lockParts],
    });
    expect(first!.reason).toMatch(/archer weak\. It rests on 6 ends\.$/);
    expect(second!.kind).toBe('shoot');
    expect(rest).toEqual([]);
  });

  test('a fine adjuster that must go far makes one ask about the arrow', () => {
    const [first] = advised({
      horizontal: off(1),
      proposals: [CLICKS],
      beyondPlate: { vertical: false, horizontal: true },
    });
    expect(first!.reason).toMatch(/the arrow may not suit the bow\.$/);
    expect(first!.cautions).toEqual([CAUTIONS.lockParts, CAUTIONS.weakArrow, CAUTIONS.coach]);
  });

  test('what its adjusters can change and need not is not changed by a rule of thumb', () => {
    const kinds = advised({
      vertical: off(1),
      leftToThumb: { vertical: 'nothing', horizontal: 'nothing' },
    }).map(({ kind }) => kind);
    expect(kinds).toEqual(['leave']);
  });
});

describe('on too few arrows', () => {
  const shootMore = { fletched: 3, bare: 2 };
  const undecided = { vertical: off(1, 'undecided'), shootMore };

  test.each([
    [null, 'Shoot 3 more fletched and 2 more bare.'],
    [true, 'Change nothing yet: shoot 3 more fletched and 2 more bare.'],
    [false, 'Change nothing: even 3 more fletched and 2 more bare would hardly settle it.'],
  ])('that are enough or not: %s', (isMoreEnough, action) => {
    const advice = advised({ ...undecided, isMoreEnough });
    expect(advice.map((one) => one.action)).toEqual([action]);
    expect(advice[0]!.cautions).toEqual([CAUTIONS.bareShafts]);
  });

  test('what is clear is changed, and the arrows come after it', () => {
    expect(actions({ ...undecided, horizontal: off(1), isMoreEnough: true })).toEqual([
      expect.stringMatching(/plunger/),
      'Shoot fletched arrows and bare shafts again.',
    ]);
  });
});

describe('on a day of groups wider than usual', () => {
  const fletchedForm = { verdict: 'wider', ratio: 1.6, p: 0.02, meaning: 'Wider today.' } as const;

  test('the shooting comes before the bow, and only what is sure is changed', () => {
    const advice = advised({ fletchedForm, vertical: off(1), horizontal: off(1, 'likely') });
    expect(advice.map(({ kind }) => kind)).toEqual(['settle', 'adjust', 'shoot']);
    expect(advice[0]).toMatchObject({ reason: 'Wider today.', cautions: [CAUTIONS.coach] });
    expect(advice[1]!.action).toMatch(/nocking point/);
  });

  test('of what is not sure nothing is said but that', () => {
    expect(advised({ fletchedForm, vertical: off(1, 'likely') }).map(({ kind }) => kind)).toEqual([
      'settle',
    ]);
  });
});
