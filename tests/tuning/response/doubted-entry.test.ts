import { describe, expect, it } from 'vitest';
import { standardAdjusters } from '../../../src/tuning/bow/standard-adjusters.ts';
import { bowSchema } from '../../../src/tuning/bow/set-up.ts';
import { doubtedEntry } from '../../../src/tuning/response/doubted-entry.ts';
import type { ResponseEnd } from '../../../src/tuning/response/response-ends.ts';
import { responseModel } from '../../../src/tuning/response/response-model.ts';
import { random } from '../../groups/random.ts';

const bow = bowSchema.parse({
  id: 'b',
  archerId: 'a',
  name: 'Rook',
  hand: 'right',
  adjusters: standardAdjusters().filter(({ part }) => part === 'plunger'),
});

/** Two ends at each place of the plunger, as it was set and as it was written down. */
function ends(
  places: readonly { set: number; written: number }[],
  perClick: number,
): ResponseEnd[] {
  const { normal } = random(8);
  return places.flatMap(({ set, written }, i) =>
    [1, 2].map((number) => ({
      id: `${i}.${number}`,
      sessionId: 's',
      label: `2031-05-0${i + 1}, end ${number}`,
      amounts: { plunger: written },
      offsetMrad: [perClick * (set - 50) + 0.7 * normal(), 0.7 * normal()] as const,
      fletched: 3,
      bare: 2,
      squaresMrad2: { fletched: 4 * 0.8 ** 2, bare: 2 * 0.9 ** 2 },
    })),
  );
}

/** What is doubted, with the plunger at its present place as it was written down. */
function doubted(list: readonly ResponseEnd[], plunger: number) {
  const options = { present: { plunger } };
  return doubtedEntry(bow, responseModel(bow, list, options), options);
}

const changesOf = (set: readonly number[], written: readonly number[]) =>
  set.map((one, i) => ({ set: one, written: written[i]! }));

describe('doubtedEntry', () => {
  const set = [50, 56, 51, 58, 52, 47, 53];

  it('finds the one change that was written down the wrong way round', () => {
    // The fourth place is seven clicks stiffer, and was written down as seven softer.
    const written = [50, 56, 51, 44, 38, 33, 39];
    const doubt = doubted(ends(changesOf(set, written), -0.35), 39);
    expect(doubt).toMatchObject({ change: -7, endId: '3.1', label: '2031-05-04, end 1' });
    expect(doubt!.p).toBeGreaterThan(0.5);
  });

  it('doubts nothing of an orderly log, nor of a plunger that always works the other way round', () => {
    for (const perClick of [-0.35, 0.35]) {
      const list = ends(changesOf(set, set), perClick);
      expect(doubted(list, 53)).toBeNull();
    }
  });
});
