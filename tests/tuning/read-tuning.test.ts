import { describe, expect, it } from 'vitest';
import { groupsOf } from '../../src/groups/groups-of.ts';
import type { LeftToThumb, Proposal } from '../../src/tuning/advice/proposal.ts';
import { readTuning } from '../../src/tuning/read-tuning.ts';
import { tuningSchema } from '../../src/tuning/advice/tuning.ts';
import { random } from '../groups/random.ts';

type Pair = [number, number];

const FLETCHED: Pair[] = [[-12, 5], [4, 11], [8, -14], [-3, -6], [5, 4]]; // prettier-ignore

function end(bareAt: Pair, fletched = FLETCHED) {
  const bare: Pair[] = [[-6, 4], [5, 7], [1, -9]]; // prettier-ignore
  return [
    ...fletched.map((mm) => ({ mm, kind: 'fletched' as const })),
    ...bare.map(([x, y]) => ({
      mm: [bareAt[0] + x, bareAt[1] + y] as Pair,
      kind: 'bare' as const,
    })),
  ];
}

describe('readTuning', () => {
  // Common practice, no published source: high = nocking point low; right-handed right = weak.
  it.each([
    { hand: 'right', at: [0, 80], vertical: 'nocking point low', horizontal: null },
    { hand: 'right', at: [0, -80], vertical: 'nocking point high', horizontal: null },
    { hand: 'right', at: [80, 0], vertical: null, horizontal: 'weak' },
    { hand: 'right', at: [-80, 0], vertical: null, horizontal: 'stiff' },
    { hand: 'left', at: [0, 80], vertical: 'nocking point low', horizontal: null },
    { hand: 'left', at: [0, -80], vertical: 'nocking point high', horizontal: null },
    { hand: 'left', at: [80, 0], vertical: null, horizontal: 'stiff' },
    { hand: 'left', at: [-80, 0], vertical: null, horizontal: 'weak' },
    { hand: 'right', at: [80, 80], vertical: 'nocking point low', horizontal: 'weak' },
    { hand: 'right', at: [-80, 80], vertical: 'nocking point low', horizontal: 'stiff' },
    { hand: 'right', at: [80, -80], vertical: 'nocking point high', horizontal: 'weak' },
    { hand: 'right', at: [-80, -80], vertical: 'nocking point high', horizontal: 'stiff' },
    { hand: 'left', at: [80, 80], vertical: 'nocking point low', horizontal: 'stiff' },
    { hand: 'left', at: [-80, 80], vertical: 'nocking point low', horizontal: 'weak' },
    { hand: 'left', at: [80, -80], vertical: 'nocking point high', horizontal: 'stiff' },
    { hand: 'left', at: [-80, -80], vertical: 'nocking point high', horizontal: 'weak' },
  ] as const)('reads $hand-handed, bare shafts at $at', ({ hand, at, vertical, horizontal }) => {
    const groups = groupsOf(end([...at]), { distanceM: 30 });
    const tuning = tuningSchema.parse(readTuning(groups, { hand, distanceM: 30 })!);
    if (vertical) {
      expect(tuning.vertical).toMatchObject({ meaning: vertical, certainty: 'sure' });
    }
    if (horizontal) {
      expect(tuning.horizontal).toMatchObject({ meaning: horizontal, certainty: 'sure' });
    }
    const changes = tuning.advice.filter((advice) => advice.kind === 'adjust');
    expect(changes).toHaveLength((vertical ? 1 : 0) + (horizontal ? 1 : 0));
    for (const change of changes) expect(change.cautions.length).toBeGreaterThan(0);
    if (vertical === 'nocking point low') expect(changes[0]!.action).toMatch(/^Raise/);
    if (vertical === 'nocking point high') expect(changes[0]!.action).toMatch(/^Lower/);
    if (horizontal) {
      expect(changes.at(-1)!.action).toMatch(horizontal === 'weak' ? /stiffer/ : /softer/);
    }
  });

  it('asks for the hand where only that tells weak from stiff, and advises the rest', () => {
    const groups = groupsOf(end([80, 80]), { distanceM: 30 });
    const unsaid = readTuning(groups, { hand: null, distanceM: 30 })!;
    const right = readTuning(groups, { hand: 'right', distanceM: 30 })!;
    expect(unsaid.horizontal).toEqual({
      ...right.horizontal,
      meaning: 'weak if right-handed, stiff if left-handed',
    });
    expect(unsaid.vertical).toEqual(right.vertical);
    expect(unsaid.summary).toContain('weak if right-handed, stiff if left-handed (sure)');
    expect(unsaid.advice.map(({ kind, adjuster }) => [kind, adjuster])).toEqual([
      ['say', 'which hand'],
      ['adjust', 'nocking point'],
      ['shoot', 'bare shafts'],
    ]);

    const sideways = readTuning(groupsOf(end([-80, 0]), { distanceM: 30 }), { hand: null, distanceM: 30 })!; // prettier-ignore
    expect(sideways.horizontal.meaning).toBe('stiff if right-handed, weak if left-handed');
    expect(sideways.advice.map(({ kind }) => kind)).toEqual(['say']);

    // Where nothing would be changed sideways, the hand changes nothing.
    const up = groupsOf(end([0, 80]), { distanceM: 30 });
    expect(readTuning(up, { hand: null, distanceM: 30 })!.advice).toEqual(
      readTuning(up, { hand: 'left', distanceM: 30 })!.advice,
    );
  });

  it('puts vertical before horizontal with arrows after each change', () => {
    const groups = groupsOf(end([80, 80]), { distanceM: 30 });
    const { advice } = readTuning(groups, { hand: 'right', distanceM: 30 })!;
    expect(advice.map((a) => [a.kind, a.adjuster])).toEqual([
      ['adjust', 'nocking point'],
      ['shoot', 'bare shafts'],
      ['adjust', 'plunger'],
      ['shoot', 'bare shafts'],
    ]);
  });

  it('makes the step that the log sizes, and none where it has none or the bow is as wanted', () => {
    const law = (mean: number, scale: number) => ({ parts: [{ weight: 1, law: { mean, scale, df: Infinity } }] }); // prettier-ignore
    const step: Proposal = {
      axis: 'horizontal',
      kind: 'step',
      adjusterId: 'plunger',
      part: 'plunger',
      name: 'Plunger',
      unit: '',
      change: 1,
      interval: [0, 2],
      pLands: 0.5,
      words: 'a bit',
      reason: '',
      endIds: [],
    };
    const advised = (
      { horizontal, scale = 1 }: { horizontal: number; scale?: number },
      proposals: Proposal[],
      left: LeftToThumb = 'nothing',
    ) =>
      readTuning(groupsOf(end([30, 30]), { distanceM: 30 }), {
        hand: 'right',
        distanceM: 30,
        log: {
          offsetMrad: { vertical: law(3, 1), horizontal: law(horizontal, scale) },
          proposals,
          leftToThumb: { vertical: left, horizontal: left },
          ends: 3,
        },
      })!
        .advice.filter(({ kind }) => kind === 'adjust')
        .map(({ adjuster }) => adjuster);
    expect(advised({ horizontal: 2 }, [step])).toEqual(['Plunger']);
    expect(advised({ horizontal: 2 }, [])).toEqual([]);
    expect(advised({ horizontal: 0.1, scale: 0.1 }, [step])).toEqual([]);
    // What no adjuster of the log can change is left to the rule of thumb, and to coarse tools.
    expect(advised({ horizontal: 2 }, [], 'all')).toEqual(['nocking point', 'plunger']);
    expect(advised({ horizontal: 2 }, [], 'rest')).toEqual(['tiller or nocking point', 'draw weight or arrow']); // prettier-ignore
  });

  it('scales the plate with distance and turns to draw weight or arrow beyond it', () => {
    // 270 mm at 30 m (common practice): radius 135 mm there, 81 mm at 18 m.
    const far = groupsOf(end([110, 0]), { distanceM: 30 });
    expect(readTuning(far, { hand: 'right', distanceM: 30 })!.withinPlate).toBe(true);
    const near = groupsOf(end([110, 0]), { distanceM: 18 });
    const tuning = readTuning(near, { hand: 'right', distanceM: 18 })!;
    expect(tuning.plate!.radiusMm).toBeCloseTo(81, 9);
    expect(tuning.withinPlate).toBe(false);
    const change = tuning.advice.find((a) => a.kind === 'adjust')!;
    expect(change.adjuster).toBe('draw weight or arrow');
    expect(change.cautions.join(' ')).toMatch(/too weak/);
    const wide = { diameterMm: 400, atM: 30 };
    expect(readTuning(near, { hand: 'right', distanceM: 18, plate: wide })!.withinPlate).toBe(true);
    expect(readTuning(groupsOf(end([110, 0])), { hand: 'right' })!.withinPlate).toBeNull();
  });

  it('reads from the preferred offset, not from zero', () => {
    const groups = groupsOf(end([60, 0]), { distanceM: 30 });
    const wanted = readTuning(groups, { hand: 'right', distanceM: 30, preferredMrad: [2, 0] })!;
    expect(wanted.horizontal.direction).toBe('level');
    expect(wanted.advice.map((a) => a.kind)).toEqual(['leave']);
    const further = readTuning(groups, { hand: 'right', distanceM: 30, preferredMrad: [4.5, 0] })!;
    expect(further.horizontal).toMatchObject({ direction: 'left', meaning: 'stiff' });
  });

  it('asks for the number of arrows that do settle it', () => {
    const { normal } = random(17);
    const arrows = [
      ...FLETCHED.slice(0, 3).map(([x, y]) => ({ mm: [2 * x, 2 * y] as Pair, kind: 'fletched' as const })),
      ...([[8, 30], [20, -18]] as Pair[]).map((mm) => ({ mm, kind: 'bare' as const })),
    ]; // prettier-ignore
    const options = { hand: 'right', distanceM: 18 } as const;
    const groups = groupsOf(arrows, options);
    const tuning = readTuning(groups, options)!;
    expect([tuning.vertical.certainty, tuning.horizontal.certainty]).toContain('undecided');
    expect(tuning.advice[0]).toMatchObject({ kind: 'shoot' });
    const more = tuning.shootMore!;
    expect(tuning.advice[0]!.action).toContain(`${more.fletched} more fletched and ${more.bare} more bare`); // prettier-ignore

    // Play the future: truths from the posterior, that many arrows more, then read again.
    const posterior = groups.offset!.posterior!;
    const futures = 400;
    let settled = 0;
    for (let i = 0; i < futures; i++) {
      const d = [0, 1].map(
        (axis) => groups.offset!.mm[axis]! + posterior.scaleMm * normal(),
      ) as Pair;
      // Arrows to come about the centres that go with this truth.
      const gap: Pair = [d[0] - groups.offset!.mm[0], d[1] - groups.offset!.mm[1]];
      const [vf, vb] = [1 / 3, posterior.bareRatio ** 2 / 2];
      const f = groups.fletched!.meanMm;
      const b = groups.bare!.meanMm;
      const shot = (kind: 'fletched' | 'bare') => {
        const [mean, shift, sd] =
          kind === 'fletched'
            ? ([f, -vf / (vf + vb), posterior.sigmaMm] as const)
            : ([b, vb / (vf + vb), posterior.sigmaMm * posterior.bareRatio] as const);
        const mm: Pair = [
          mean[0] + shift * gap[0] + sd * normal(),
          mean[1] + shift * gap[1] + sd * normal(),
        ];
        return { mm, kind };
      };
      const all = [
        ...arrows,
        ...Array.from({ length: more.fletched }, () => shot('fletched')),
        ...Array.from({ length: more.bare }, () => shot('bare')),
      ];
      const later = readTuning(groupsOf(all, options), options)!;
      if ([later.vertical, later.horizontal].every((v) => v.certainty === 'sure' || v.direction === 'level')) settled++; // prettier-ignore
    }
    expect(settled / futures).toBeGreaterThan(0.65);
  });

  it('says when the fletched group is wider than the record before anything else', () => {
    const record = { sigmaMrad: 0.5, arrows: 150 };
    const wide: Pair[] = FLETCHED.map(([x, y]) => [5 * x, 5 * y]);
    const groups = groupsOf(end([30, 20], wide), { distanceM: 30, record });
    const tuning = readTuning(groups, { hand: 'right', distanceM: 30, record })!;
    expect(tuning.fletchedForm.verdict).toBe('wider');
    expect(tuning.advice[0]!.kind).toBe('settle');
    const usual = readTuning(groupsOf(end([30, 20]), { distanceM: 30, record: { sigmaMrad: 0.3, arrows: 150 } }), { hand: 'right', distanceM: 30, record: { sigmaMrad: 0.3, arrows: 150 } })!; // prettier-ignore
    expect(usual.fletchedForm.verdict).toBe('usual');
  });

  it('says nothing of the bow unless both kinds were shot, and stays calm with one of each', () => {
    for (const arrows of [[], end([0, 0]).slice(0, 5), end([0, 0]).slice(5)]) {
      expect(readTuning(groupsOf(arrows), { hand: 'right' })).toBeNull();
    }
    const one = groupsOf([end([9, 9])[0]!, end([9, 9])[7]!], { distanceM: 18 });
    const tuning = tuningSchema.parse(readTuning(one, { hand: 'left', distanceM: 18 })!);
    expect(tuning.shootMore).toEqual({ fletched: 2, bare: 1 });
    expect(tuning.advice.map((a) => a.kind)).toEqual(['shoot']);
  });

  it('says without a distance what holds from all of those it may have been shot from', () => {
    const groups = groupsOf(end([0, 120]));
    const unsaid = readTuning(groups, { hand: 'right' })!;
    expect(unsaid.vertical.direction).toBe('high');
    expect(unsaid.advice[0]).toMatchObject({ kind: 'say', adjuster: 'the distance' });
    expect(unsaid.summary).toMatch(/From how far it was shot is not said: this holds from 10 to 90 m\.$/); // prettier-ignore
    expect([unsaid.plate, unsaid.estimate]).toEqual([null, null]);
    const told = [10, 18, 30, 50, 70, 90].map((distanceM) =>
      readTuning(groupsOf(end([0, 120]), { distanceM }), { hand: 'right', distanceM }),
    );
    expect(unsaid.vertical.p).toBe(Math.min(...told.map((tuning) => tuning!.vertical.p)));
  });

  it('mixes over the ways to tag: never sure, no change, and asks for the tags', () => {
    const groups = groupsOf(end([0, 120]), { distanceM: 30 });
    const mirrored = groupsOf(end([0, -120]), { distanceM: 30 });
    const mixed = (weights: readonly [number, number]) => {
      const ways = [
        { weight: weights[0], groups },
        { weight: weights[1], groups: mirrored },
      ];
      const supposed = [{ distanceM: 30, ways }];
      return readTuning(groups, { hand: 'right', distanceM: 30, supposed, pOfTags: weights[0] })!;
    };
    const told = readTuning(groups, { hand: 'right', distanceM: 30 })!;
    expect(told.vertical.certainty).toBe('sure');
    const most = mixed([0.9, 0.1]);
    expect(most.vertical).toMatchObject({ direction: 'high', certainty: 'likely' });
    expect(most.vertical.p).toBeCloseTo(0.9 * told.vertical.p + 0.1 * (1 - told.vertical.p), 3);
    expect(most.advice.map(({ kind }) => kind)).toEqual(['say']);
    expect(most.advice[0]!.reason).toContain('90 %');
    expect(mixed([1, 0]).vertical.certainty).toBe('likely');
    expect(mixed([0.5, 0.5]).vertical.certainty).toBe('undecided');
  });

  it('says with a log what this end shows and what all of them come to, with one number for each', () => {
    const groups = groupsOf(end([0, 30]), { distanceM: 30 });
    const law = (mean: number) => ({ parts: [{ weight: 1, law: { mean, scale: 0.4, df: 40 } }] });
    const log = {
      offsetMrad: { vertical: law(-2), horizontal: law(0) },
      proposals: [],
      leftToThumb: { vertical: 'nothing', horizontal: 'nothing' } as const,
      ends: 9,
    };
    const tuning = readTuning(groups, { hand: 'right', distanceM: 30, log })!;
    expect(tuning.summary).toBe(
      'This end alone: 31 mm high, 0 mm left at 30 m. With your last 9 ends: 60 mm low, nocking point high (sure); 0 mm right, sideways as wanted (likely).',
    );
    expect(tuning.estimate!.mrad[1]).toBeCloseTo(-2, 5);
    // 1.684: the 0.95 quantile of Student's t on 40 degrees of freedom, from the usual tables.
    expect(tuning.estimate!.half90Mrad[1]).toBeCloseTo(0.4 * 1.684, 2);
    expect(tuning.estimate!.ends).toBe(9);
  });
});
