import type { Bow, SetUp } from '../tuning/bow/set-up.ts';

export interface FolderBook {
  /** Each with its archer's name. */
  readonly bows: readonly Bow[];
  readonly setUps: readonly SetUp[];
}

const heard = (name: string) => name.normalize('NFC').toLowerCase().trim().replaceAll(/\s+/gu, ' ');

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
  const bows = book.bows.filter((bow) => !bow.archived && heard(bow.archerId) === heard(archer));
  const setUps = book.setUps
    .filter((setUp) => !setUp.archived)
    .sort((a, b) => b.date.localeCompare(a.date));
  const bow = bows.find(({ name }) => heard(name) === heard(said));
  const setUp = bow
    ? setUps.find(({ bowId }) => bowId === bow.id)
    : setUps.find(
        ({ bowId, name }) => heard(name) === heard(said) && bows.some(({ id }) => id === bowId),
      );
  const of = bow ?? bows.find(({ id }) => id === setUp?.bowId);
  return of && setUp ? { bow: of, setUp } : null;
}
