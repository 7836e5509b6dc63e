import type { LogRows } from './log-of-kept.ts';

/** An id has at most 80 letters; a session's is made of its bow's and more. */
const BOW_LETTERS = 8;
const SET_UP_LETTERS = 50;

export function ownBowId(bowId: string, archerId: string): string {
  return `${bowId.slice(0, BOW_LETTERS)}-${archerId}`;
}

export function ownSetUpId(setUpId: string, archerId: string): string {
  return `${setUpId.slice(0, SET_UP_LETTERS)}-${archerId}`;
}

/**
 * The same end with a bow of its archer's own, for a log that has this bow as another archer's: a bow
 * that two people shoot stands in a log once for each.
 */
export function withOwnBow(rows: LogRows): LogRows {
  const bow = { ...rows.bow, id: ownBowId(rows.bow.id, rows.archer.id) };
  const setUp = {
    ...rows.setUp,
    id: ownSetUpId(rows.setUp.id, rows.archer.id),
    bowId: bow.id,
  };
  const session = {
    ...rows.session,
    id: rows.session.id.replace(rows.bow.id, bow.id),
    bowId: bow.id,
    setUpId: setUp.id,
  };
  const end = { ...rows.end, sessionId: session.id, setUpId: setUp.id };
  return { ...rows, bow, setUp, session, end };
}
