import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import type { BookRows } from '../keep/change-book.ts';
import { database, type InLog } from '../store/database.ts';
import { keptEnds } from '../store/kept-ends.ts';
import { writtenBook } from '../store/written-book.ts';

/** The set-up book as it is shown. */
export interface Book {
  readonly bows: readonly Bow[];
  /** Latest first. */
  readonly setUps: readonly SetUp[];
  /** How many ends were shot with each set-up; those that are not here with none. */
  readonly shotWith: ReadonlyMap<string, number>;
  /** What was changed on another device too, by its id here. */
  readonly inLog: ReadonlyMap<string, InLog>;
}

/** What a person can do about bows and set-ups. */
export interface BookActions {
  readonly add: (bow: Bow, setUp: SetUp) => void;
  readonly write: (rows: BookRows, words?: string) => void;
  /** What nothing was shot with goes. */
  readonly remove: (rows: BookRows, name: string) => void;
  /** What something was shot with is put out of use. */
  readonly archive: (rows: BookRows, name: string) => void;
  readonly takeBack: (rows: BookRows) => void;
  readonly use: (bow: Bow, setUp: SetUp) => void;
  readonly insist: (note: InLog) => void;
  readonly takeOther: (note: InLog) => void;
}

export const EMPTY_BOOK: Book = {
  bows: [],
  setUps: [],
  shotWith: new Map(),
  inLog: new Map(),
};

export async function openBook(): Promise<Book> {
  const db = await database();
  const [{ bows, setUps }, inLog] = await Promise.all([writtenBook(), db.getAll('inLog')]);
  const shotWith = new Map<string, number>();
  for (const { settings } of [...(await keptEnds()), ...(await db.getAll('drafts'))]) {
    if (settings.setUpId === null) continue;
    shotWith.set(settings.setUpId, (shotWith.get(settings.setUpId) ?? 0) + 1);
  }
  return {
    bows,
    setUps: [...setUps].sort((a, b) => b.date.localeCompare(a.date)),
    shotWith,
    inLog: new Map(inLog.filter(({ conflict }) => conflict).map((note) => [note.ownId, note])),
  };
}
