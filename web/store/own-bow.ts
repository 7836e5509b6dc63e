import type { LogRows } from './log-of-kept.ts';

/** An id has at most 80 letters; a session's is made of its bow's and more. */
const BOW_LETTERS = 8;
const SET_UP_LETTERS = 50;

/**
 * The same end with a bow of its archer's own, for a log that has this bow as another archer's: a bow
 * that two people shoot stands in a log once for each.
 */
export function withOwnBow(rows: LogRows): LogRows {
  const own = (id: string, letters: number) => `${id.slice(0, letters)}-${rows.archer.id}`;
  const bow = { ...rows.bow, id: own(rows.bow.id, BOW_LETTERS) };
  const setUp = { ...rows.setUp, id: own(rows.setUp.id, SET_UP_LETTERS), bowId: bow.id };
  const session = {
    ...rows.session,
    id: rows.session.id.replace(rows.bow.id, bow.id),
    bowId: bow.id,
    setUpId: setUp.id,
  };
  const end = { ...rows.end, sessionId: session.id, setUpId: setUp.id };
  return { ...rows, bow, setUp, session, end };
}
