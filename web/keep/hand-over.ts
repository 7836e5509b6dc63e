import { signal, type Signal } from '@preact/signals';
import { z } from 'zod';
import { inTurn } from '../state/between-tabs.ts';
import { remembered } from '../state/remembered.ts';
import { HAS_SERVER } from '../state/server.ts';
import { database, type KeptEnd } from '../store/database.ts';
import { keptEnds } from '../store/kept-ends.ts';
import { logRowsOf, type LogRows } from '../store/log-of-kept.ts';
import { withOwnBow } from '../store/own-bow.ts';

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

export type HandOverState =
  /** Nobody has looked yet what waits. */
  | { readonly name: 'unknown' }
  | { readonly name: 'idle' }
  | { readonly name: 'sending'; readonly waiting: number }
  | { readonly name: 'unreachable'; readonly waiting: number }
  /** The log's machine has no room: what waits is safe here. */
  | { readonly name: 'no-room'; readonly waiting: number; readonly message: string }
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
  // Oldest first: what was said of a session last is what its row says in the end.
  const waiting = (await keptEnds()).filter((end) => end.sentRevision < end.revision).reverse();
  if (waiting.length === 0) {
    handOverState.value = { name: 'idle' };
    return;
  }
  const [bows, setUps] = await Promise.all([db.getAll('bows'), db.getAll('setUps')]);
  let refusal: string | null = null;
  for (const [i, end] of waiting.entries()) {
    handOverState.value = { name: 'sending', waiting: waiting.length - i };
    try {
      await send(end, logRowsOf(end, { bows, setUps }));
    } catch (error) {
      if (error instanceof NoRoom) {
        const { message } = error;
        handOverState.value = { name: 'no-room', waiting: waiting.length - i, message };
        return;
      }
      if (!(error instanceof Refused)) {
        handOverState.value = { name: 'unreachable', waiting: waiting.length - i };
        return;
      }
      // One end that the log will not have must not hold up the rest.
      refusal = error.message;
      continue;
    }
    const note = db.transaction('ends', 'readwrite');
    const now = await note.store.get(end.id);
    if (now) await note.store.put({ ...now, sentRevision: end.revision });
    await note.done;
  }
  handOverState.value = refusal === null ? { name: 'idle' } : { name: 'refused', message: refusal };
}

class Refused extends Error {
  readonly code: string;

  constructor(code: string, message: string) {
    super(message);
    this.code = code;
  }
}

class NoRoom extends Error {}

async function send(kept: KeptEnd, rows: LogRows): Promise<void> {
  await put(`archers/${rows.archer.id}`, JSON.stringify(rows.archer));
  const { setUp, session, end } = await putBow(rows);
  await put(`set-ups/${setUp.id}`, JSON.stringify(setUp));
  await put(`sessions/${session.id}`, JSON.stringify(session));
  const photo =
    handOverWhat.value === 'ends-and-photos'
      ? await (await database()).get('photos', kept.id)
      : undefined;
  if (!photo) {
    await put(`ends/${end.id}`, JSON.stringify(end));
    return;
  }
  const form = new FormData();
  form.append('end', JSON.stringify(end));
  form.append('photo', photo, kept.photoName || 'end.jpg');
  await put(`ends/${end.id}`, form);
}

/** @returns the rows as the log has them */
async function putBow(rows: LogRows): Promise<LogRows> {
  const putOne = ({ bow }: LogRows) => put(`bows/${bow.id}`, JSON.stringify(bow));
  try {
    await putOne(rows);
    return rows;
  } catch (error) {
    if (!(error instanceof Refused) || error.code !== 'of-another-archer') throw error;
    const own = withOwnBow(rows);
    await putOne(own);
    return own;
  }
}

async function put(path: string, body: string | FormData): Promise<void> {
  const answer = await fetch(`api/log/${path.split('/').map(encodeURIComponent).join('/')}`, {
    method: 'PUT',
    body,
    ...(typeof body === 'string' && { headers: { 'content-type': 'application/json' } }),
  });
  if (answer.ok) return;
  const said = z
    .object({ error: z.object({ code: z.string(), message: z.string() }) })
    .safeParse(await answer.json().catch(() => null));
  const { code, message } = said.success
    ? said.data.error
    : { code: '', message: `The log refused an end (${answer.status}).` };
  if (answer.status === 507) throw new NoRoom(message);
  // A gateway that has no server behind it, or a server that is busy, may answer later.
  if (answer.status >= 500 || answer.status === 404 || answer.status === 429) {
    throw new Error(answer.statusText);
  }
  throw new Refused(code, message);
}
