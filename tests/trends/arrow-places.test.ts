import { describe, expect, it } from 'vitest';
import { arrowPlaces, LEAST_ENDS, type ArrowPlaces } from '../../src/trends/arrow-places.ts';
import { bowSchema, setUpSchema } from '../../src/tuning/bow/set-up.ts';
import { standardAdjusters } from '../../src/tuning/bow/standard-adjusters.ts';
import { endSchema, sessionSchema, type End } from '../../src/tuning/record/session.ts';
import { measureArrows, measureForetold } from '../bench/arrows-bench.ts';
import { numberedShots, type NumberedShooting } from '../simulation/numbered-ends.ts';
import { chance } from '../simulation/virtual-archer.ts';

const bow = bowSchema.parse({ id: 'b', archerId: 'a', name: 'Bow', hand: 'right', adjusters: standardAdjusters() }); // prettier-ignore
const day = (n: number) => `2031-05-${String(n).padStart(2, '0')}T10:00:00Z`;
const DISTANCE_M = 30;

interface Shooting extends Partial<NumberedShooting> {
  readonly kind?: 'fletched' | 'bare';
  readonly setUpId?: string;
  readonly first?: number;
  readonly seed?: number;
}

/** Ends as a log has them, spread 1.5 mrad unless told. */
function shoot({
  kind = 'fletched',
  setUpId = 'u1',
  first = 1,
  seed = 4,
  ...more
}: Shooting = {}): End[] {
  const shooting = { arrows: 6, perEnd: 6, ends: 12, sigma: 1.5, aimSd: 2, ...more };
  const shots = numberedShots(shooting, chance(seed));
  return [...new Set(shots.map(({ end }) => end))].map((end, i) =>
    endSchema.parse({
      id: `${setUpId}-${kind}-${end}`,
      sessionId: 's',
      setUpId,
      shotAt: day(first + i),
      arrows: shots
        .filter((shot) => shot.end === end)
        .map(({ arrow, at }, k) => ({ id: `m${k}`, mm: at.map((mrad) => mrad * DISTANCE_M), kind, zone: 5, arrowNumber: arrow })), // prettier-ignore
    }),
  );
}

const session = sessionSchema.parse({ id: 's', archerId: 'a', bowId: 'b', setUpId: 'u1', date: day(1), setting: 'outdoor', distanceM: DISTANCE_M, face: 'wa80' }); // prettier-ignore
const setUp = (id: string, n: number, settings: object = {}) =>
  setUpSchema.parse({ id, bowId: 'b', name: id, date: day(n), settings });

function placesOf(
  ends: readonly End[],
  setUps = [setUp('u1', 1)],
): readonly [ArrowPlaces, ArrowPlaces] {
  return arrowPlaces(bow, { setUps, sessions: [session], ends });
}

const numbersOf = ({ arrows }: ArrowPlaces) => arrows.map(({ arrowNumber }) => arrowNumber);

describe('what is said of simulated arrows', () => {
  const usual = { sigma: 1, aimSd: 1.5, arrows: 12, perEnd: 6, ends: 12 } as const;

  it('calls one of twelve apart in no more than one set in twenty, and intervals hold nine in ten', () => {
    const { falseAlarm, held } = measureArrows(usual, { runs: 100, seed: 11 });
    // Three standard errors above one in twenty.
    expect(falseAlarm).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / 100));
    expect(held).toBeGreaterThan(0.88);
    expect(held).toBeLessThan(0.92);
  });

  it('finds an arrow two spreads off, and drags no other with it', () => {
    const { found, falseAlarm } = measureArrows(
      { ...usual, ends: 24, off: { '5': [2, 0] } },
      { runs: 60, seed: 12 },
    );
    expect(found).toBeGreaterThan(0.9);
    expect(falseAlarm).toBeLessThan(0.14);
  });

  it('asks for as many more as settle it about four times in five', () => {
    const { settled } = measureForetold({ ...usual, off: { '5': [1, 0] } }, { runs: 60, seed: 13 });
    expect(settled).toBeGreaterThan(0.65);
  });
});

describe('the arrows of a log', () => {
  it('names the one that lands apart, says where, and what to look at', () => {
    const [fletched, bare] = placesOf(shoot({ off: { '3': [-4, 1] }, ends: 14 }));
    expect(fletched.ends).toBe(14);
    expect(numbersOf(fletched)).toEqual(['1', '2', '3', '4', '5', '6']);
    const three = fletched.arrows[2]!;
    expect(three).toMatchObject({ arrowNumber: '3', shots: 14, verdict: 'apart', moreShots: null });
    expect(Math.abs(three.mrad[0] + 4)).toBeLessThan(2 * three.half90Mrad);
    expect(fletched.sigmaMrad).toBeGreaterThan(1.2);
    expect(fletched.sigmaMrad).toBeLessThan(1.8);
    expect(fletched.meaning).toMatch(/^Arrow 3 lands apart: \d+ mm left, \d+ mm high at 30 m from the centre of the others\./); // prettier-ignore
    // Common practice, no published source.
    expect(fletched.cautions.join(' ')).toMatch(/cracks.*flex a carbon shaft.*nock is straight/);
    expect(bare).toMatchObject({ ends: 0, arrows: [], sigmaMrad: null });
    expect(bare.meaning).toMatch(/^Number the bare shafts/);
  });

  it('says nothing of single arrows before the tenth end', () => {
    const ends = shoot({ ends: LEAST_ENDS, off: { '3': [-9, 0] } });
    const [few] = placesOf(ends.slice(1));
    expect(few).toMatchObject({ ends: 9, arrows: [], cautions: [] });
    expect(few.meaning).toMatch(/^9 of 10 ends/);
    expect(placesOf(ends)[0].arrows).toHaveLength(6);
  });

  it('tells how many more shots where it is open', () => {
    const [{ arrows, meaning }] = placesOf(shoot({ off: { '3': [1.4, 0] }, ends: 10, seed: 9 }));
    const open = arrows.filter(({ verdict }) => verdict === 'open');
    expect(open.length).toBeGreaterThan(0);
    for (const { arrowNumber, moreShots } of open) {
      expect(moreShots).toBeGreaterThan(0);
      expect(meaning).toContain(`${arrowNumber} (${moreShots} more to tell)`);
    }
  });

  it('judges bare shafts among themselves, far off as they may land', () => {
    const ends = shoot({ arrows: 4, perEnd: 4 }).map((end, i) => ({
      ...end,
      arrows: [
        ...end.arrows,
        ...shoot({ kind: 'bare', arrows: 3, perEnd: 3, sigma: 2, off: { '2': [6, 0] }, seed: 8 })[i]!.arrows.map(
          (arrow) => ({ ...arrow, mm: [arrow.mm[0] + 300, arrow.mm[1]] as [number, number] }),
        ),
      ],
    })); // prettier-ignore
    const [fletched, bare] = placesOf(ends);
    expect(fletched.arrows.every(({ verdict }) => verdict !== 'apart')).toBe(true);
    expect(bare.arrows.map(({ verdict }) => verdict === 'apart')).toEqual([false, true, false]);
    expect(bare.meaning).toMatch(/^Bare shaft 2 lands apart/);
  });

  it('does not say which of two is off', () => {
    const [, bare] = placesOf(shoot({ kind: 'bare', arrows: 2, perEnd: 2, off: { '2': [8, 0] } }));
    expect(bare.arrows.map(({ verdict }) => verdict)).toEqual(['open', 'open']);
    expect(bare.meaning).toMatch(/^Bare shafts 1, 2 do not land together/);
    expect(bare.cautions).toEqual([]);
  });

  it('compares only what was shot together, over other arrows too', () => {
    const split = shoot({ arrows: 3, perEnd: 3 }).flatMap((end, i) => [
      end,
      { ...shoot({ arrows: 3, perEnd: 3, seed: 6 })[i]!, id: `other-${i}` },
    ]);
    const named = split.map((end) => ({
      ...end,
      arrows: end.arrows.map((arrow) =>
        end.id.startsWith('other') ? { ...arrow, arrowNumber: `${arrow.arrowNumber}B` } : arrow,
      ),
    }));
    const [apart] = placesOf(named);
    expect(apart.meaning).toContain('Never shot together, so not compared: 1, 2, 3 / 1B, 2B, 3B.');
    const mixed = {
      ...named[0]!,
      id: 'mixed',
      arrows: [named[0]!.arrows[0]!, named[1]!.arrows[0]!],
    };
    expect(placesOf([...named, mixed])[0].meaning).not.toContain('Never shot together');
  });

  it('leaves out what has no number or one twice, what was set aside, and other bows', () => {
    const ends = shoot({ arrows: 4, perEnd: 4, ends: 13 });
    const spoilt = [
      { ...ends[0]!, setAside: true },
      { ...ends[1]!, arrows: ends[1]!.arrows.map((arrow) => ({ ...arrow, arrowNumber: '1' })) },
      { ...ends[2]!, arrows: ends[2]!.arrows.map((arrow, i) => ({ ...arrow, arrowNumber: i === 0 ? '1' : undefined })) }, // prettier-ignore
      ...ends.slice(3),
    ];
    expect(placesOf(spoilt)[0].ends).toBe(10);
    const elsewhere = { ...session, bowId: 'another' };
    const nothing = arrowPlaces(bow, { setUps: [setUp('u1', 1)], sessions: [elsewhere], ends });
    expect(nothing[0].ends).toBe(0);
    const unsaid = { ...session, distanceM: null };
    expect(arrowPlaces(bow, { setUps: [], sessions: [unsaid], ends })[0].ends).toBe(0);
  });

  it('takes the numbers of other arrows for others, and goes by those that are shot now', () => {
    const spine = bow.adjusters.find(({ part }) => part === 'spine')!.id;
    const of = (value: number) => ({ [spine]: { type: 'number', value } });
    const plunger = bow.adjusters.find(({ part }) => part === 'plunger')!.id;
    const setUps = [
      setUp('old', 1, of(600)),
      setUp('first', 12, of(700)),
      setUp('unread', 14, { [plunger]: { type: 'dial', line: 2, mark: 3 } }),
    ];
    const ends = [
      ...shoot({ setUpId: 'old', off: { '3': [9, 0] }, ends: 12 }),
      ...shoot({ setUpId: 'first', first: 13, ends: 6, seed: 21 }),
      ...shoot({ setUpId: 'unread', first: 19, ends: 6, seed: 22 }),
    ];
    const [now] = placesOf(ends, setUps);
    expect(now.ends).toBe(12);
    expect(now.arrows.every(({ verdict }) => verdict !== 'apart')).toBe(true);
    // Back to the old ones: their ends count again.
    const back = [
      ...ends,
      ...shoot({ setUpId: 'again', first: 28, ends: 2, off: { '3': [9, 0] } }),
    ];
    const [old] = placesOf(back, [...setUps, setUp('again', 27, of(600))]);
    expect(old.ends).toBe(14);
    expect(old.arrows[2]!.verdict).toBe('apart');
  });
});

describe('numbers of arrows', () => {
  const read = (arrowNumber: string) =>
    endSchema.shape.arrows.element.safeParse({ id: 'm', mm: [0, 0], kind: 'bare', zone: 1, arrowNumber }); // prettier-ignore
  it.each([
    ['7', '7'],
    [' 07 ', '7'],
    ['12', '12'],
    ['3b', '3B'],
    ['A', 'A'],
    ['b2', 'B2'],
    ['0', '0'],
  ])('reads %j as %s', (typed, number) => {
    expect(read(typed).data?.arrowNumber).toBe(number);
  });
  it.each(['', '-1', '1.5', '1234', 'AB', 'seven', '=1'])('refuses %j', (typed) => {
    expect(read(typed).success).toBe(false);
  });
});
