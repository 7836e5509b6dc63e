import type { Bow, SetUp } from '../tuning/bow/set-up.ts';
import { asHeard } from '../tuning/record/archer-id.ts';

export interface FolderBook {
  /** Each with its archer's name. */
  readonly bows: readonly Bow[];
  readonly setUps: readonly SetUp[];
}

/**
 * The bow and set-up of a book that a photo's folders speak of: the archer's bow of that name as it was
 * written down last, else the archer's set-up of that name. Null where the book has neither, or where
 * what is archived alone would fit.
 */
export function setUpOfFolder(
  book: FolderBook,
  { archer, bow: said }: { readonly archer: string; readonly bow: string },
): { readonly bow: Bow; readonly setUp: SetUp } | null {
  if (said.trim() === '') return null;
  const bows = book.bows.filter(
    (bow) => !bow.archived && asHeard(bow.archerId) === asHeard(archer),
  );
  const setUps = book.setUps
    .filter((setUp) => !setUp.archived)
    .sort((a, b) => b.date.localeCompare(a.date));
  const bow = bows.find(({ name }) => asHeard(name) === asHeard(said));
  const setUp = bow
    ? setUps.find(({ bowId }) => bowId === bow.id)
    : setUps.find(
        ({ bowId, name }) => asHeard(name) === asHeard(said) && bows.some(({ id }) => id === bowId),
      );
  const of = bow ?? bows.find(({ id }) => id === setUp?.bowId);
  return of && setUp ? { bow: of, setUp } : null;
}
