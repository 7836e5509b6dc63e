import { ENGLISH } from '../words/words.ts';
import { looksBare } from '../groups/looks-bare.ts';
import { suggestKinds } from '../groups/suggest-kinds.ts';
import type { Mark } from '../marks/mark.ts';
import { ReadingError } from '../request/reading-error.ts';
import type { ReadingRequest } from '../request/request.ts';

/**
 * Marks with their kinds and what these rest on: what a person said, else vanes that were seen, else
 * the counts where only one kind was shot, else the pattern of hits. Without counts what nothing
 * tells stays unknown.
 * @throws ReadingError where a person named a mark that is not there
 */
export function withKinds(
  marks: readonly Mark[],
  request: Pick<ReadingRequest, 'fletched' | 'bare' | 'bareAt' | 'distanceM'>,
): Mark[] {
  const seen = marks.map((mark): Mark => ({
    ...mark,
    kindFrom: mark.kind === 'unknown' ? null : 'vanes',
  }));
  if (request.bareAt !== undefined) return asSaid(seen, request.bareAt);
  const { fletched, bare, distanceM } = request;
  if (fletched === undefined || bare === undefined) return seen;
  const own = seen.filter((mark) => mark.age !== 'old');
  const suggested = suggestKinds(
    own.map((mark) => ({ mm: mark.mm, looksBare: looksBare(mark) })),
    { fletched, bare, distanceM },
  );
  const kinds = new Map(own.map(({ id }, i) => [id, suggested[i]!.kind]));
  const kindFrom = fletched === 0 || bare === 0 ? 'count' : 'pattern';
  return seen.map((mark): Mark => {
    const kind = kinds.get(mark.id);
    return mark.kind !== 'unknown' || kind === undefined ? mark : { ...mark, kind, kindFrom };
  });
}

/** Marks count from 1 in the order of the reading; old ones count for nothing. */
function asSaid(marks: readonly Mark[], bareAt: readonly number[]): Mark[] {
  const fresh = marks.filter((mark) => mark.age !== 'old').length;
  for (const number of bareAt) {
    const mark = marks[number - 1];
    if (mark === undefined || mark.age === 'old') {
      throw new ReadingError(
        'no-such-mark',
        ENGLISH.say(
          'There is no mark {number} of this end: {found} were found. Read the photo without naming bare shafts to see them counted.',
          { number, found: fresh },
        ),
      );
    }
  }
  return marks.map((mark, i): Mark =>
    mark.age === 'old'
      ? mark
      : { ...mark, kind: bareAt.includes(i + 1) ? 'bare' : 'fletched', kindFrom: 'person' },
  );
}
