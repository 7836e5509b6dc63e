import { describe, expect, it } from 'vitest';
import { leftToThumb, proposeNext } from '../../../src/tuning/advice/propose-next.ts';
import { responseEnds, type ResponseEnd } from '../../../src/tuning/response/response-ends.ts';
import {
  presentOffset,
  responseModel,
  slopeOf,
} from '../../../src/tuning/response/response-model.ts';
import { bowSchema, setUpSchema } from '../../../src/tuning/bow/set-up.ts';
import { endSchema, sessionSchema } from '../../../src/tuning/record/session.ts';
import { standardAdjusters } from '../../../src/tuning/bow/standard-adjusters.ts';
import { proposalSchema } from '../../../src/tuning/advice/proposal.ts';
import { random } from '../../groups/random.ts';

function bowOf(hand: 'right' | 'left') {
  return bowSchema.parse({
    id: 'b',
    archerId: 'a',
    name: 'Rook',
    hand,
    adjusters: standardAdjusters().filter(({ part }) => ['plunger', 'nocking-point', 'limb-bolts'].includes(part)), // prettier-ignore
  });
}

const PRESENT = { plunger: 50, 'nocking-point': 8, 'limb-bolts': 4 };

/** Ends whose offset is a plain line in clicks and millimetres, with noise of 3 + 3 arrows. */
function ends(
  settings: { clicks: number; nock: number; sessionId?: string }[],
  truth: { perClick: number; perMm: number; base: [number, number] },
  sigma = 0.8,
): ResponseEnd[] {
  const { normal } = random(31);
  return settings.map(({ clicks, nock, sessionId = 's' }, i) => ({
    id: `e${i}`,
    sessionId,
    label: `2031-04-0${i + 1}, end 1`,
    amounts: { plunger: clicks, 'nocking-point': nock, 'limb-bolts': 4 },
    offsetMrad: [
      truth.base[0] + truth.perClick * (clicks - 50) + sigma * Math.sqrt(2 / 3) * normal(),
      truth.base[1] + truth.perMm * (nock - 8) + sigma * Math.sqrt(2 / 3) * normal(),
    ],
    fletched: 3,
    bare: 3,
    squaresMrad2: { fletched: 4 * sigma ** 2, bare: 4 * sigma ** 2 },
  }));
}

const SWEEP = [30, 40, 50, 60, 45, 35, 55, 50].map((clicks, i) => ({ clicks, nock: 6 + (i % 4) }));

describe('responseModel', () => {
  it('learns the slopes of a bow that differs from the usual', () => {
    const truth = { perClick: -0.15, perMm: -2.6, base: [1, -1] as [number, number] };
    const model = responseModel(bowOf('right'), ends(SWEEP, truth), { present: PRESENT });
    const click = slopeOf(model.axes.horizontal, 'plunger')!;
    expect(Math.abs(click.mean + 0.15)).toBeLessThan(2.5 * click.sd);
    expect(click.sd).toBeLessThan(0.05);
    const mm = slopeOf(model.axes.vertical, 'nocking-point')!;
    expect(Math.abs(mm.mean + 2.6)).toBeLessThan(2.5 * mm.sd);
    const now = presentOffset(model.axes.horizontal);
    expect(Math.abs(now.mean - 1)).toBeLessThan(2.5 * now.sd);
  });

  it('starts from the mechanics, mirrored for left-handers', () => {
    for (const [hand, sign] of [
      ['right', -1],
      ['left', 1],
    ] as const) {
      const model = responseModel(bowOf(hand), [], { present: PRESENT });
      expect(Math.sign(slopeOf(model.axes.horizontal, 'plunger')!.mean)).toBe(sign);
      expect(slopeOf(model.axes.vertical, 'nocking-point')!.mean).toBeLessThan(0);
    }
  });

  it('is hardly moved by one wild end', () => {
    const truth = { perClick: -0.35, perMm: -1.5, base: [0, 0] as [number, number] };
    const clean = ends(SWEEP, truth);
    const wild = clean.map((end, i) => (i === 3 ? { ...end, offsetMrad: [25, 0] as const } : end));
    const slope = (list: ResponseEnd[]) =>
      slopeOf(
        responseModel(bowOf('right'), list, { present: PRESENT }).axes.horizontal,
        'plunger',
      )!;
    expect(Math.abs(slope(wild).mean - slope(clean).mean)).toBeLessThan(0.06);
    const model = responseModel(bowOf('right'), wild, { present: PRESENT });
    expect(model.axes.horizontal.trust[3]).toBeLessThan(0.15);
    expect(model.axes.horizontal.trust.filter((t) => t === 1).length).toBeGreaterThanOrEqual(6);
  });

  it('weighs ends by their arrows', () => {
    const [one] = ends([{ clicks: 50, nock: 8 }], { perClick: 0, perMm: 0, base: [2, 0] });
    const few = responseModel(bowOf('right'), [{ ...one!, fletched: 1, bare: 1 }], { present: PRESENT }); // prettier-ignore
    const many = responseModel(bowOf('right'), [{ ...one!, fletched: 12, bare: 12 }], { present: PRESENT }); // prettier-ignore
    expect(presentOffset(many.axes.horizontal).sd).toBeLessThan(presentOffset(few.axes.horizontal).sd); // prettier-ignore
  });

  it('takes a session that is off as a whole for the session, not for the bow', () => {
    const truth = { perClick: -0.35, perMm: -1.5, base: [0, 0] as [number, number] };
    const list = ends(
      ['a', 'a', 'a', 'b', 'b', 'b', 'c', 'c', 'c'].map((sessionId) => ({ clicks: 50, nock: 8, sessionId })), // prettier-ignore
      truth,
      0.4,
    ).map((end) => (end.sessionId === 'b' ? { ...end, offsetMrad: [end.offsetMrad[0] + 1.2, end.offsetMrad[1]] as const } : end)); // prettier-ignore
    const now = presentOffset(responseModel(bowOf('right'), list, { present: PRESENT }).axes.horizontal); // prettier-ignore
    expect(now.mean).toBeLessThan(0.55);
    expect(now.sd).toBeGreaterThan(0.15);
  });
});

describe('sessions that differ', () => {
  it('make the lasting offset less certain the more they differ', () => {
    const of = (levels: readonly number[]) => {
      const list = ends(
        levels.flatMap((_, i) => [0, 1].map(() => ({ clicks: 50, nock: 8, sessionId: `s${i}` }))),
        { perClick: -0.35, perMm: -1.5, base: [0, 0] },
        0.4,
      ).map((end, i) => ({ ...end, offsetMrad: [levels[Math.floor(i / 2)]!, 0] as const }));
      return presentOffset(responseModel(bowOf('right'), list, { present: PRESENT }).axes.horizontal); // prettier-ignore
    };
    const steady = of([0.1, -0.1, 0.1, -0.1, 0.1, -0.1]);
    const restless = of([1.2, -1.2, 1.2, -1.2, 1.2, -1.2]);
    expect(restless.sd).toBeGreaterThan(1.3 * steady.sd);
  });
});

describe('proposeNext', () => {
  const bow = bowOf('right');

  it('proposes the step that the log supports, in clicks, with its ends', () => {
    const truth = { perClick: -0.3, perMm: -1.5, base: [2.4, 0] as [number, number] };
    const model = responseModel(bow, ends(SWEEP, truth, 0.5), { present: PRESENT });
    const [proposal, ...others] = proposeNext(bow, model, { present: PRESENT, distanceM: 30 });
    expect(others).toEqual([]);
    expect(proposalSchema.parse(proposal)).toMatchObject({ axis: 'horizontal', kind: 'step', adjusterId: 'plunger' }); // prettier-ignore
    expect(proposal!.change).toBeGreaterThanOrEqual(6);
    expect(proposal!.change).toBeLessThanOrEqual(10);
    expect(proposal!.interval[0]).toBeLessThan(8);
    expect(proposal!.interval[1]).toBeGreaterThan(8);
    expect(proposal!.pLands).toBeGreaterThan(0.5);
    expect(proposal!.words).toMatch(/^about \d+ clicks stiffer \(\d+ to \d+\)$/);
    expect(proposal!.reason).toMatch(/2031-04-0\d, end 1/);
    expect(proposal!.endIds).toHaveLength(SWEEP.length);
  });

  it('asks for no more than the adjuster can be changed where its slope may be none', () => {
    const truth = { perClick: 0, perMm: -1.5, base: [2.4, 0] as [number, number] };
    const still = ends(SWEEP, truth, 0.8);
    const model = responseModel(bow, still, { present: PRESENT });
    const [proposal] = proposeNext(bow, model, { present: PRESENT });
    const clicks = PRESENT.plunger;
    // The dial goes from 0 to 10 lines of 10.
    expect(proposal!.interval[0]).toBeGreaterThanOrEqual(-clicks);
    expect(proposal!.interval[1]).toBeLessThanOrEqual(100 - clicks);
    expect(proposal!.words).toMatch(/^about \d+ clicks? (stiffer|softer)( \(\d+ or more\))?$/);
  });

  it('takes a few scattered ends for chance, and many for an adjuster the other way round', () => {
    // Four ends whose scatter makes a stiffer plunger look like moving the bare shafts right.
    const settings = [40, 50, 40, 50].map((clicks) => ({ clicks, nock: 8 }));
    const seen = ends(settings, { perClick: 0, perMm: 0, base: [0, 0] }, 3).map((end, i) => ({
      ...end,
      offsetMrad: [i % 2 === 0 ? 0 : 1.5, 0] as const,
    }));
    const few = responseModel(bow, seen, { present: PRESENT }).axes.horizontal;
    const slope = slopeOf(few, 'plunger')!;
    expect(slope.mean).toBeLessThan(slope.sd);
    const proven = ends(SWEEP, { perClick: 0.3, perMm: -1.5, base: [2.4, 0] }, 0.3);
    const model = responseModel(bow, proven, { present: PRESENT });
    const [turned] = proposeNext(bow, model, { present: PRESENT });
    expect(turned!.change).toBeLessThan(0);
    expect(turned!.reason).toMatch(/On this bow it works the other way round than usual/);
  });

  it('makes one change at a time, the one that helps most, with what it does across counted in', () => {
    const truth = { perClick: -0.3, perMm: -1.5, base: [1.2, 4] as [number, number] };
    const model = responseModel(bow, ends(SWEEP, truth, 0.4), { present: PRESENT });
    const proposals = proposeNext(bow, model, { present: PRESENT });
    expect(proposals.map(({ axis }) => axis)).toEqual(['vertical']);
  });

  it('leaves the rest to the rule of thumb where an adjuster is at the end of its range', () => {
    const truth = { perClick: -0.3, perMm: -1.5 };
    const atEnd = { ...PRESENT, plunger: 100 };
    const only = { ...bow, adjusters: bow.adjusters.filter(({ part }) => part !== 'limb-bolts') };
    const clicks = [80, 85, 90, 95, 100, 100];
    const list = ends(clicks.map((one) => ({ clicks: one, nock: 8 })), { ...truth, base: [18, 0] }, 0.3); // prettier-ignore
    const model = responseModel(only, list, { present: atEnd });
    expect(proposeNext(only, model, { present: atEnd })).toEqual([]);
    expect(leftToThumb(only, model, 'horizontal', { present: atEnd })).toBe('rest');
    expect(leftToThumb(only, model, 'vertical', { present: atEnd })).toBe('nothing');
    const bare = { ...bow, adjusters: [] };
    expect(leftToThumb(bare, responseModel(bare, list, { present: {} }), 'vertical', { present: {} })).toBe('all'); // prettier-ignore
  });

  it('probes with a small step when it knows nothing of an adjuster', () => {
    const truth = { perClick: -0.3, perMm: -1.5, base: [0, 4] as [number, number] };
    const model = responseModel(bow, ends([{ clicks: 50, nock: 8 }, { clicks: 50, nock: 8 }], truth), { present: PRESENT }); // prettier-ignore
    const [proposal] = proposeNext(bow, model, { present: PRESENT });
    expect(proposal).toMatchObject({
      axis: 'vertical',
      kind: 'probe',
      adjusterId: 'nocking-point',
    });
    expect(proposal!.change).toBeGreaterThan(0);
    expect(proposal!.change).toBeLessThanOrEqual(2);
    expect(proposal!.reason).toMatch(/No end of this bow shows yet/);
  });

  it('keeps to the range of the adjuster and turns to the limb bolts beyond the plate', () => {
    const truth = { perClick: -0.3, perMm: -1.5, base: [2.4, 0] as [number, number] };
    const atEnd = { ...PRESENT, plunger: 98 };
    const near = ends([{ clicks: 98, nock: 8 }], { ...truth, base: [2.4 + 0.3 * 48, 0] }, 0.3);
    const capped = proposeNext(bow, responseModel(bow, near, { present: atEnd }), {
      present: atEnd,
    });
    expect(capped[0]!.change).toBeLessThanOrEqual(2);
    const wide = ends([{ clicks: 50, nock: 8 }, { clicks: 50, nock: 8 }], { ...truth, base: [9, 0] }, 0.3); // prettier-ignore
    const beyond = proposeNext(bow, responseModel(bow, wide, { present: PRESENT }), { present: PRESENT }); // prettier-ignore
    expect(beyond[0]!.adjusterId).toBe('limb-bolts');
    expect(beyond[0]!.words).toMatch(/ out/);
  });

  it('leaves a bow alone that is where it is wanted', () => {
    const truth = { perClick: -0.3, perMm: -1.5, base: [1, 1] as [number, number] };
    const model = responseModel(bow, ends(SWEEP, truth, 0.3), { present: PRESENT, preferredMrad: [1, 1] }); // prettier-ignore
    expect(proposeNext(bow, model, { present: PRESENT, preferredMrad: [1, 1] })).toEqual([]);
  });
});

describe('responseEnds', () => {
  it('takes ends with both kinds, in time, with settings carried forward', () => {
    const bow = bowOf('left');
    const setUps = [
      { id: 'u1', date: '2031-04-01T09:00:00Z', settings: { plunger: { type: 'dial', line: 3, mark: 5 }, 'nocking-point': { type: 'number', value: 8 } } },
      { id: 'u2', date: '2031-04-08T09:00:00Z', settings: { plunger: { type: 'dial', line: 4, mark: 0 } } },
    ].map((one) => setUpSchema.parse({ ...one, bowId: 'b', name: one.id })); // prettier-ignore
    const session = sessionSchema.parse({ id: 's', archerId: 'a', bowId: 'b', setUpId: 'u1', date: '2031-04-08T10:00:00Z', setting: 'indoor', distanceM: 20, face: 'wa60' }); // prettier-ignore
    const arrow = (id: string, mm: [number, number], kind: string) => ({ id, mm, kind, zone: 9 });
    const end = (id: string, more: object) =>
      endSchema.parse({ id, sessionId: 's', setUpId: 'u2', shotAt: '2031-04-08T10:10:00Z', arrows: [arrow('1', [0, 0], 'fletched'), arrow('2', [20, -40], 'bare')], ...more }); // prettier-ignore
    const list = responseEnds(bow, {
      setUps,
      sessions: [session],
      ends: [
        end('later', { shotAt: '2031-04-08T10:20:00Z' }),
        end('first', {}),
        end('aside', { setAside: true }),
        end('no bare', { arrows: [arrow('1', [0, 0], 'fletched')] }),
      ],
    });
    expect(list.map((one) => one.id)).toEqual(['first', 'later']);
    expect(list[0]!.amounts).toEqual({ plunger: 40, 'nocking-point': 8 });
    expect(list[0]!.offsetMrad).toEqual([1, -2]);
    expect(list[0]!.label).toBe('2031-04-08, end 1');
  });
});
