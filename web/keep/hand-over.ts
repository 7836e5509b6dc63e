import { say } from '../state/words.ts';
import { signal, type Signal } from '@preact/signals';
import { z } from 'zod';
import { inTurn } from '../state/between-tabs.ts';
import { remembered } from '../state/remembered.ts';
import { HAS_SERVER } from '../state/server.ts';
import { database, type DeletedEnd, type KeptEnd } from '../store/database.ts';
import { keptEnds } from '../store/kept-ends.ts';
import { logRowsOf, type LogRows } from '../store/log-of-kept.ts';
import { withOwnBow } from '../store/own-bow.ts';
import { writtenBook } from '../store/written-book.ts';
import { mergeBook, readLoggedBook, waitingInBook, type LoggedBook } from './book-in-log.ts';
import { askLog, NoRoom, Refused } from './log-requests.ts';

export const HAND_OVER = ['off', 'ends', 'ends-and-photos'] as const;
export type HandOver = (typeof HAND_OVER)[number];

/** A server on this very machine is no other place: what is kept may go to its log unasked. */
const ON_THIS_MACHINE = ['localhost', '127.0.0.1', '[::1]'].includes(location.hostname);

/** What of the kept ends goes to the log of the server that this page came from, where there is one. */
export const handOverWhat: Signal<HandOver> = HAS_SERVER
  ? remembered<HandOver>(
      'hand-over',
      z.enum(HAND_OVER),
      ON_THIS_MACHINE ? 'ends-and-photos' : 'off',
    )
  : signal('off');

/** How many ends, and changes of the set-up book, the log does not have yet. */
export interface Waiting {
  readonly ends: number;
  readonly changes: number;
}

export type HandOverState =
  /** Nobody has looked yet what waits. */
  | { readonly name: 'unknown' }
  | { readonly name: 'idle' }
  | { readonly name: 'sending'; readonly waiting: Waiting }
  | { readonly name: 'unreachable'; readonly waiting: Waiting }
  /** The log's machine has no room: what waits is safe here. */
  | { readonly name: 'no-room'; readonly waiting: Waiting; readonly message: string }
  | { readonly name: 'refused'; readonly message: string };

export const handOverState = signal<HandOverState>({ name: 'unknown' });

/**
 * Hands kept ends to the server's log, once each. Every row is put under its own id, so that an end
 * which was sent but not noted, because the page died in between, is the same end when it is sent
 * again. One tab does it at a time.
 */
export async function handOver(): Promise<void> {
  if (handOverWhat.value === 'off') return;
  await inTurn('endwise.hand-over', sendAll);
}

async function sendAll(): Promise<void> {
  const db = await database();
  const [kept, deleted, book] = await Promise.all([
    keptEnds(),
    db.getAll('deleted'),
    writtenBook(),
  ]);
  // Oldest first: what was said of a session last is what its row says in the end.
  const waiting = kept
    .filter((end) => end.sentRevision < end.revision && end.conflict === null)
    .reverse();
  const left = { ends: waiting.length, changes: waitingInBook(book, await db.getAll('inLog')) };
  let refusal: string | null = null;
  /** One thing that the log will not have must not hold up the rest. */
  const unlessRefused = async <T>(step: () => Promise<T>): Promise<T | null> => {
    if (left.ends + left.changes > 0)
      handOverState.value = { name: 'sending', waiting: { ...left } };
    try {
      return await step();
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      refusal = error.message;
      return null;
    }
  };
  try {
    const log = await unlessRefused(readLoggedBook);
    if (log) {
      const deleteGone = await unlessRefused(() => mergeBook(log, kept));
      left.changes = 0;
      for (const end of waiting) {
        await unlessRefused(() => sendAndNote(end, logRowsOf(end, book, log.idOf), log));
        left.ends--;
      }
      for (const one of deleted) if (one.inLog) await unlessRefused(() => deleteInLog(one));
      if (deleteGone) await unlessRefused(deleteGone);
    }
    handOverState.value =
      refusal === null ? { name: 'idle' } : { name: 'refused', message: refusal };
  } catch (error) {
    handOverState.value =
      error instanceof NoRoom
        ? { name: 'no-room', waiting: left, message: error.message }
        : { name: 'unreachable', waiting: left };
  }
}

async function sendAndNote(end: KeptEnd, rows: LogRows, log: LoggedBook): Promise<void> {
  let change: Partial<KeptEnd>;
  try {
    change = { logVersion: await send(end, rows, log), sentRevision: end.revision };
  } catch (error) {
    const conflict = error instanceof Refused ? conflictOf(error) : null;
    if (conflict === null) throw error;
    change = { conflict };
  }
  const note = (await database()).transaction('ends', 'readwrite');
  const now = await note.store.get(end.id);
  if (now) await note.store.put({ ...now, ...change });
  await note.done;
  if (change.conflict) conflictsFound.value++;
}

/** Counts up whenever the log turns out to hold something else than what was last sent from here. */
export const conflictsFound = signal(0);

function conflictOf({ code }: Refused): KeptEnd['conflict'] {
  if (code === 'changed-elsewhere') return 'changed';
  return code === 'deleted-elsewhere' ? 'deleted' : null;
}

/** @returns the version that the log has now */
async function send(kept: KeptEnd, plain: LogRows, log: LoggedBook): Promise<string | null> {
  const ofAnother = log.bow.get(plain.bow.id)?.archerId ?? plain.archer.id;
  const rows = ofAnother === plain.archer.id ? plain : withOwnBow(plain);
  const { archer, bow, setUp, session, end } = rows;
  // What the log has of them already is the book's affair, not the end's.
  await putMissing(log.archers, 'archers', archer);
  await putMissing(log.bow, 'bows', bow);
  await putMissing(log['set-up'], 'set-ups', setUp);
  const putSession = () => put(`sessions/${session.id}`, session);
  const photo =
    handOverWhat.value === 'ends-and-photos'
      ? await (await database()).get('photos', kept.id)
      : undefined;
  let body: string | FormData = JSON.stringify(end);
  if (photo) {
    body = new FormData();
    body.append('end', JSON.stringify(end));
    body.append('photo', photo, kept.photoName || 'end.jpg');
  }
  // Ends that were handed over before versions were noted are replaced, as they were then.
  const expected = kept.logVersion ?? (kept.sentRevision === 0 ? null : undefined);
  const putEnd = () => askLog(`ends/${end.id}`, { method: 'PUT', body, expected });
  if (expected === null) {
    await putSession();
    return putEnd();
  }
  // Of an end that the log will not have changed, nothing else is changed either.
  const version = await putEnd().catch(async (error: unknown) => {
    if (!(error instanceof Refused) || error.code !== 'unknown-session') throw error;
    await putSession();
    return putEnd();
  });
  await putSession();
  return version;
}

async function putMissing<T extends { readonly id: string }>(
  there: Map<string, T>,
  path: string,
  row: T,
): Promise<void> {
  if (there.has(row.id)) return;
  await put(`${path}/${row.id}`, row);
  there.set(row.id, row);
}

async function put(path: string, row: object): Promise<void> {
  await askLog(path, { method: 'PUT', body: JSON.stringify(row) });
}

/** What somebody has changed in the log since it was handed over is not deleted unseen. */
async function deleteInLog({ id, end }: DeletedEnd): Promise<void> {
  try {
    await askLog(`ends/${id}`, { method: 'DELETE', expected: end.logVersion ?? undefined });
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    if (error.code === 'changed-elsewhere') {
      throw new Refused(
        error.code,
        say(
          'An end that was deleted here was changed on another device since: it stays in the log.',
        ),
      );
    }
    if (!error.code.startsWith('unknown-')) throw error;
  }
  const note = (await database()).transaction(['ends', 'deleted'], 'readwrite');
  const deleted = await note.objectStore('deleted').get(id);
  if (deleted) await note.objectStore('deleted').put({ ...deleted, inLog: false });
  // It was put back here while it went there.
  const back = await note.objectStore('ends').get(id);
  if (back) await note.objectStore('ends').put({ ...back, sentRevision: 0, logVersion: null });
  await note.done;
}

/** After a person chose the end as it is here: the log's one gives way, whatever it is now. */
export async function insistOn(id: string): Promise<void> {
  const db = await database();
  const end = await db.get('ends', id);
  if (end === undefined) return;
  let logVersion: string | null = null;
  try {
    logVersion = await askLog(`ends/${id}`, { method: 'GET' });
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
  }
  const sentRevision = logVersion === null ? 0 : end.sentRevision;
  await db.put('ends', { ...end, logVersion, sentRevision, conflict: null });
  await handOver();
}
