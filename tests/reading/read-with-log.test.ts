import { describe, expect, it } from 'vitest';
import type { KnownOfArcher } from '../../src/reading/known-of-archer.ts';
import { readWithLog } from '../../src/reading/read-with-log.ts';
import { learnRecord } from '../../src/trends/learn-record.ts';
import { trendEnds } from '../../src/trends/trend-ends.ts';
import { readLog } from '../../src/tuning/read-log.ts';
import { setUpAt } from '../../src/tuning/record/set-up-at.ts';
import { season } from '../drawing/season.ts';
import { plainReading } from './plain-reading.ts';

const { bow, setUps, sessions, ends } = season();
const known: KnownOfArcher = {
  archer: { id: 'archer', name: 'Ilka Brandt', hand: 'right', notes: '' },
  sessions,
  ends,
  bow,
  setUps,
  setUpId: null,
};
const AT = '2031-06-28T10:00:00.000Z';
const REQUEST = {
  hand: 'right',
  distanceM: 30,
  preferredMrad: [0, 0] as [number, number],
} as const;

describe('readWithLog', () => {
  const judged = readWithLog(plainReading(), REQUEST, known, AT);

  it('takes the learned record as prior and the bow’s response, this end counted once', () => {
    const record = learnRecord(trendEnds(known), { at: AT })!;
    // The prior's degrees of freedom come on top of the six of this end.
    expect(judged.groups!.offset!.posterior!.df).toBeGreaterThan(10);
    expect(judged.tuning!.fletchedForm.verdict).not.toBe('unknown');
    const session = { ...sessions[0]!, id: 'now', date: AT, distanceM: 30 };
    const arrows = judged.marks
      .filter((mark) => mark.age !== 'old')
      .map(({ id, mm, kind }) => ({ id, mm: [...mm] as [number, number], spot: 0, kind, zone: 9, inner: false })); // prettier-ignore
    const now = { ...ends[0]!, id: 'now', sessionId: 'now', setUpId: 'raised', shotAt: AT, arrows };
    const expected = readLog(
      bow,
      { setUps, sessions: [...sessions, session], ends: [...ends, now] },
      { setUpId: 'raised', record, distanceM: 30 },
    )!;
    expect(expected.ends).toBe(ends.length + 1);
    const adjust = judged.tuning!.advice.filter(({ kind }) => kind === 'adjust');
    const proposed = expected.proposals.map(({ words }) => words);
    for (const { action } of adjust) expect(proposed.some((words) => action.includes(words))).toBe(true); // prettier-ignore
    // This end's bare shafts lie to the right; all ends of this set-up together say left.
    expect(judged.groups!.offset!.mm[0]).toBeGreaterThan(100);
    expect(judged.tuning!.horizontal.direction).toBe('left');
  });

  it('keeps marks, score and what was warned of', () => {
    const { marks, score, warnings } = plainReading();
    expect(judged).toMatchObject({ marks, score, warnings });
  });

  it('takes preferred offset and hand from the log, and says where they disagree', () => {
    const wanted = setUps.map((setUp) => ({ ...setUp, preferredMrad: [9, 0] as [number, number] }));
    const asked = readWithLog(plainReading(), { ...REQUEST, hand: 'left' }, { ...known, setUps: wanted }, AT); // prettier-ignore
    expect(asked.tuning!.horizontal).toMatchObject({ direction: 'left', meaning: 'stiff' });
    expect(asked.warnings.at(-1)).toBe(
      'The log says that Outdoor bow is right-handed: that counts.',
    );
    const own = readWithLog(plainReading(), { ...REQUEST, preferredMrad: [-9, 0] }, { ...known, setUps: wanted }, AT); // prettier-ignore
    expect(own.tuning!.horizontal.direction).toBe('right');
  });

  it('without a distance says what holds from wherever the face is shot, by the log as well', () => {
    const without = readWithLog(plainReading(), { ...REQUEST, distanceM: undefined }, known, AT);
    expect(without.groups!.offset!.mrad).toBeNull();
    expect(without.tuning!.fletchedForm.verdict).toBe('unknown');
    expect(without.tuning!.summary).toMatch(/With your last \d+ ends.*From how far it was shot is not said: this holds from 18 to 50 m\.$/); // prettier-ignore
    expect(without.tuning!.advice.map(({ adjuster }) => adjuster)).toEqual(['the distance']);
  });

  it('takes the record alone where the bow is open', () => {
    const open = readWithLog(plainReading(), REQUEST, { ...known, bow: null, setUps: [] }, AT);
    expect(open.groups).toEqual(judged.groups);
    expect(open.tuning!.advice.every(({ reason }) => !reason.includes("bow's log"))).toBe(true);
  });
});

describe('setUpAt', () => {
  it('is the one last shot, or written down since', () => {
    const at = (time: string) => setUpAt({ setUps, ends }, time)?.id;
    expect(at(AT)).toBe('raised');
    expect(at('2031-04-06T00:00:00Z')).toBe('softer');
    expect(at('2031-03-20T00:00:00Z')).toBe('winter');
    // Before anything, the first; and without any, none.
    expect(at('2030-01-01T00:00:00Z')).toBe('winter');
    expect(setUpAt({ setUps: [], ends }, AT)).toBeNull();
    // Put back to an old one: it was shot after the newer one was written.
    const back = [...ends, { ...ends[0]!, setUpId: 'winter', shotAt: '2031-06-27T10:00:00Z' }];
    expect(setUpAt({ setUps, ends: back }, AT)?.id).toBe('winter');
  });
});
