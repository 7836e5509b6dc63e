import { expect, it } from 'vitest';
import type { Mark } from '../../src/marks/mark.ts';
import { judgeTuning } from '../../src/reading/judge-tuning.ts';
import { withKinds } from '../../src/reading/with-kinds.ts';
import { usualDistancesM } from '../../src/face/usual-distances.ts';
import { measureUnsaid, virtualEnd } from '../bench/unsaid-bench.ts';

// What is not known never makes a bow in tune look like one that is not.
it('leaves bows in tune alone where distance or tags are not told', () => {
  const distance = measureUnsaid('in tune', 'distance unsaid', { ends: 60, seed: 3 });
  expect(distance.sure).toBeLessThanOrEqual(0.02);
  expect(distance.change).toBeLessThanOrEqual(0.12);
  for (const about of ['tags guessed', 'both'] as const) {
    const { sure, change } = measureUnsaid('in tune', about, { ends: 20, seed: 3 });
    expect([sure, change]).toEqual([0, 0]);
  }
});

// Telling how far it was shot can make a verdict surer, never turn it round or make it less sure.
it.each(['told', 'guessed'] as const)('is never surer without the distance, tags %s', (tags) => {
  const rank = { undecided: 0, likely: 1, sure: 2 };
  // With guessed tags hardly anything is decided of bows near their tune.
  const populations =
    tags === 'told' ? (['in tune', 'slightly off', 'far'] as const) : (['far'] as const);
  let decided = 0;
  for (let i = 0; i < (tags === 'told' ? 60 : 30); i++) {
    const { face, marks } = virtualEnd(populations[i % populations.length]!, 31 * i + 5);
    const judgedAt = (distanceM: number | undefined) => {
      const request = { ...REQUEST, preferredMrad: [0, 0] as [number, number], distanceM };
      const unknown = marks.map((mark): Mark => ({ ...mark, kind: 'unknown' }));
      const tagged = tags === 'told' ? marks : withKinds(unknown, request);
      return judgeTuning({ face, marks: tagged, request }, {}).tuning;
    };
    const unsaid = judgedAt(undefined);
    if (!unsaid) continue;
    for (const distanceM of usualDistancesM(face)) {
      const told = judgedAt(distanceM)!;
      for (const axis of ['vertical', 'horizontal'] as const) {
        if (unsaid[axis].certainty === 'undecided') continue;
        decided++;
        expect(told[axis].direction).toBe(unsaid[axis].direction);
        expect(rank[told[axis].certainty]).toBeGreaterThanOrEqual(rank[unsaid[axis].certainty]);
        expect(told[axis].p).toBeGreaterThanOrEqual(unsaid[axis].p - 1e-9);
      }
    }
  }
  expect(decided).toBeGreaterThan(3);
});

const REQUEST = {
  hand: 'right',
  distanceM: 30,
  preferredMrad: [0, 0],
  fletched: 3,
  bare: 2,
} as const;

function marksAt(places: readonly (readonly [number, number])[]): Mark[] {
  return places.map((mm, i) => ({
    id: `m${i + 1}`,
    spot: 0,
    mm,
    px: null,
    sdMm: 0.4,
    state: 'hole',
    age: 'fresh',
    kind: 'unknown',
    confidence: 1,
  }));
}

const judged = (marks: readonly Mark[], request: Partial<Parameters<typeof withKinds>[1]> = {}) => {
  const said = { ...REQUEST, preferredMrad: [0, 0] as [number, number], ...request };
  return judgeTuning({ face: 'wa80', marks: withKinds(marks, said), request: said }, {});
};

const END = marksAt([[-20, 0], [15, 12], [4, -18], [10, 150], [-8, 170]]); // prettier-ignore

it('says which marks it guessed to be bare, how likely, and what else they may be', () => {
  const { guessedTags, tuning } = judged(END);
  expect(guessedTags!.ways[0]!.bare).toEqual(['m4', 'm5']);
  expect(guessedTags!.ways.length).toBeGreaterThan(1);
  expect(tuning!.vertical).toMatchObject({ direction: 'high', certainty: 'likely' });
  expect(tuning!.advice.map(({ kind }) => kind)).toEqual(['say']);
});

it('is sure, and advises, once a person has said which are bare', () => {
  const { guessedTags, tuning } = judged(END, { bareAt: [4, 5] });
  expect(guessedTags).toBeNull();
  expect(tuning!.vertical.certainty).toBe('sure');
  expect(tuning!.advice[0]!.kind).toBe('adjust');
  const other = judged(END, { bareAt: [1, 2] });
  expect(other.groups.bare!.n).toBe(2);
  expect(other.groups.bare!.meanMm).toEqual([-2.5, 6]);
  expect(() => judged(END, { bareAt: [6] })).toThrow(
    'There is no mark 6 of this end: 5 were found.',
  );
});

it('keeps what vanes told, and knows by the counts where one kind was shot', () => {
  const seen = END.map((mark, i): Mark => ({ ...mark, kind: i === 3 ? 'bare' : 'unknown' }));
  expect(withKinds(seen, REQUEST).map(({ kindFrom }) => kindFrom)).toEqual([
    'pattern', 'pattern', 'pattern', 'vanes', 'pattern',
  ]); // prettier-ignore
  const fletched = judged(END, { fletched: 5, bare: 0 });
  expect(fletched).toMatchObject({ guessedTags: null, tuning: null });
  expect(fletched.groups.fletched!.n).toBe(5);
  expect(judged(END, { fletched: undefined, bare: undefined })).toMatchObject({ tuning: null });
});
