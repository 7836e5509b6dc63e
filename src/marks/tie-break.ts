import { ENGLISH, type Words } from '../words/words.ts';
import { SCORINGS, type Scoring } from '../face/scoring.ts';

/** The count by which equal totals are parted, and what is counted. */
export interface TieBreak {
  readonly of: (typeof SCORINGS)[Scoring]['tieBreak'];
  readonly count: number;
}

/** @param arrows with their values by the rule, those of the end alone */
export function tieBreakOf(
  arrows: readonly { readonly zone: number; readonly inner: boolean }[],
  scoring: Scoring,
): TieBreak {
  const of = SCORINGS[scoring].tieBreak;
  const counts = {
    X: ({ inner }: (typeof arrows)[number]) => inner,
    tens: ({ zone }: (typeof arrows)[number]) => zone === 10,
    golds: ({ zone }: (typeof arrows)[number]) => zone === 9,
  };
  return { of, count: arrows.filter(counts[of]).length };
}

/** '2 X', '3 golds'; null where there is none to say. */
export function tieBreakWords(
  tieBreak: TieBreak | undefined,
  words: Words = ENGLISH,
): string | null {
  if (!tieBreak || tieBreak.count === 0) return null;
  const { of, count } = tieBreak;
  if (of === 'tens') return words.count(count, '{n} ten', '{n} tens');
  if (of === 'golds') return words.count(count, '{n} gold', '{n} golds');
  return `${words.number(count)} X`;
}
