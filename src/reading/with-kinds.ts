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

/**
 * Marks with the numbers of their arrows, as a person said them.
 * @throws ReadingError where a person named a mark that is not there, or one number twice
 */
export function withArrowNumbers(
  marks: readonly Mark[],
  said: ReadingRequest['arrowNumbers'],
): Mark[] {
  const numbers = new Map<number, string>();
  for (const { mark: number, arrowNumber } of said ?? []) {
    needMark(marks, number, 'numbers');
    const twice = [...numbers].find(
      ([other, taken]) =>
        other === number ||
        (taken === arrowNumber && marks[other - 1]!.kind === marks[number - 1]!.kind),
    );
    if (twice) {
      throw new ReadingError(
        'number-twice',
        twice[0] === number
          ? ENGLISH.say('Mark {mark} has two numbers, {one} and {two}: say one.', {
              mark: number,
              one: twice[1],
              two: arrowNumber,
            })
          : ENGLISH.say(
              'Marks {one} and {two} both have the number {arrow}: an end has each arrow once.',
              { one: twice[0], two: number, arrow: arrowNumber },
            ),
      );
    }
    numbers.set(number, arrowNumber);
  }
  return marks.map((mark, i): Mark => {
    const arrowNumber = numbers.get(i + 1);
    return arrowNumber === undefined ? mark : { ...mark, arrowNumber };
  });
}

/** Marks count from 1 in the order of the reading; old ones count for nothing. */
function asSaid(marks: readonly Mark[], bareAt: readonly number[]): Mark[] {
  for (const number of bareAt) needMark(marks, number, 'kinds');
  return marks.map((mark, i): Mark =>
    mark.age === 'old'
      ? mark
      : { ...mark, kind: bareAt.includes(i + 1) ? 'bare' : 'fletched', kindFrom: 'person' },
  );
}

const NO_SUCH_MARK = {
  kinds:
    'There is no mark {number} of this end: {found} were found. Read the photo without naming bare shafts to see them counted.',
  numbers:
    'There is no mark {number} of this end: {found} were found. Read the photo without numbers of arrows to see them counted.',
} as const;

function needMark(marks: readonly Mark[], number: number, said: keyof typeof NO_SUCH_MARK): void {
  const mark = marks[number - 1];
  if (mark !== undefined && mark.age !== 'old') return;
  const found = marks.filter(({ age }) => age !== 'old').length;
  throw new ReadingError('no-such-mark', ENGLISH.say(NO_SUCH_MARK[said], { number, found }));
}
