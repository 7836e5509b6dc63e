import { say } from '../state/words.ts';
import { signal } from '@preact/signals';
import isSame from 'fast-deep-equal';
import { z } from 'zod';
import { archerIds, type ArcherIds } from '../../src/tuning/record/archer-id.ts';
import { mergeStep } from '../../src/tuning/record/merge-copies.ts';
import { archerSchema, type Archer } from '../../src/tuning/record/session.ts';
import { bowSchema, setUpSchema, type Bow, type SetUp } from '../../src/tuning/bow/set-up.ts';
import { announce } from '../state/announce.ts';
import { settings } from '../state/settings.ts';
import { database, type InLog, type KeptEnd } from '../store/database.ts';
import { isWrittenDown, nameOf, NOBODY, type Book } from '../store/log-of-kept.ts';
import { ownBowId, ownSetUpId } from '../store/own-bow.ts';
import { writtenBook } from '../store/written-book.ts';
import { askLog, getLog, Refused } from './log-requests.ts';

/** Archers, bows and set-ups of the server's log by their ids. */
export interface LoggedBook {
  readonly archers: Map<string, Archer>;
  readonly bow: Map<string, Bow>;
  readonly 'set-up': Map<string, SetUp>;
  readonly idOf: ArcherIds;
}

type Row = Bow | SetUp;

const KINDS = {
  bow: { path: 'bows', shelf: 'bows', schema: bowSchema },
  'set-up': { path: 'set-ups', shelf: 'setUps', schema: setUpSchema },
} as const;

/** Counts up whenever the log changed something in the book of this device, or a conflict came up. */
export const bookChanges = signal(0);

export async function readLoggedBook(): Promise<LoggedBook> {
  const [archers, bows, setUps] = await Promise.all([
    getLog('archers', z.array(archerSchema)),
    getLog('bows', z.array(bowSchema)),
    getLog('set-ups', z.array(setUpSchema)),
  ]);
  const byId = <T extends { readonly id: string }>(rows: readonly T[]) =>
    new Map(rows.map((row) => [row.id, row]));
  return {
    archers: byId(archers.content),
    bow: byId(bows.content),
    'set-up': byId(setUps.content),
    idOf: archerIds(archers.content),
  };
}

/** A bow or set-up of this device's book in the form of the log. */
interface Copy {
  readonly what: InLog['what'];
  readonly logId: string;
  readonly ownId: string;
  readonly row: Row;
  readonly archerName: string;
  /** A bow that several shoot goes to the log once for each; the others follow the first. */
  readonly isMain: boolean;
  readonly isShotWith: boolean;
}

function copiesOf({ bows, setUps }: Book, kept: readonly KeptEnd[], log: LoggedBook): Copy[] {
  const copies: Copy[] = [];
  for (const bow of bows) {
    const own = setUps.filter((setUp) => setUp.bowId === bow.id);
    const ends = kept.filter((end) => own.some(({ id }) => id === end.settings.setUpId));
    const shooters = ends.map((end) => nameOf(end.settings)).reverse();
    const said = bow.archerId === NOBODY ? shooters[0] || settings.value.archer.trim() : null;
    const owner = said ?? bow.archerId;
    // Of nobody's bow the log could not say whose it is: it waits.
    if (owner === '') continue;
    const taken = log.bow.get(bow.id)?.archerId ?? log.idOf(owner);
    for (const name of new Set([owner, ...shooters])) {
      const archerId = log.idOf(name);
      const isPlain = taken === archerId;
      const logId = isPlain ? bow.id : ownBowId(bow.id, archerId);
      const isMain = name === owner;
      const shotWith = new Set(
        ends.filter((end) => nameOf(end.settings) === name).map((end) => end.settings.setUpId),
      );
      const common = { archerName: name, isMain };
      copies.push({
        ...common,
        what: 'bow',
        logId,
        ownId: bow.id,
        row: { ...bow, id: logId, archerId },
        isShotWith: shotWith.size > 0,
      });
      for (const setUp of own) {
        if (!isMain && !shotWith.has(setUp.id)) continue;
        const id = isPlain ? setUp.id : ownSetUpId(setUp.id, archerId);
        copies.push({
          ...common,
          what: 'set-up',
          logId: id,
          ownId: setUp.id,
          row: { ...setUp, id, bowId: logId },
          isShotWith: shotWith.has(setUp.id),
        });
      }
    }
  }
  return copies;
}

/**
 * Brings the book of this device and the log together: what was written down, renamed, corrected,
 * archived or deleted on either side, since both last agreed, is so on the other.
 * @returns deletes from the log what was deleted here, once the ends that were shot with it are gone
 */
export async function mergeBook(
  log: LoggedBook,
  kept: readonly KeptEnd[],
): Promise<() => Promise<void>> {
  const db = await database();
  const [book, noted] = await Promise.all([writtenBook(), db.getAll('inLog')]);
  const notes = new Map(noted.map((note) => [note.key, note]));
  const copies = copiesOf(book, kept, log);
  let refusal: Refused | null = null;
  for (const copy of copies) {
    try {
      await mergeOne(copy, notes.get(keyOf(copy)), log);
    } catch (error) {
      // One that the log will not have must not hold up the rest.
      if (!(error instanceof Refused)) throw error;
      if (!isLate(error)) refusal = error;
    }
  }
  const here = new Set(copies.map(keyOf));
  const own = new Set([...book.bows, ...book.setUps].map(({ id }) => id));
  await takeNew(log, { here, own, notes });
  const gone = noted.filter(({ key, ownId }) => !here.has(key) && !own.has(ownId));
  if (refusal) throw refusal;
  return () => deleteGone(gone, log);
}

/** How many bows and set-ups were written down, changed or deleted here since the log last agreed. */
export function waitingInBook({ bows, setUps }: Book, notes: readonly InLog[]): number {
  const content = ({ id: _id, ...row }: Row) =>
    'archerId' in row ? { ...row, archerId: '' } : { ...row, bowId: '' };
  const agreed = new Map(notes.map((note) => [note.ownId, content(note.agreed)]));
  const own = [...bows, ...setUps];
  const changed = own.filter((row) => !isSame(content(row), agreed.get(row.id)));
  const here = new Set(own.map(({ id }) => id));
  return changed.length + notes.filter(({ ownId }) => !here.has(ownId)).length;
}

const keyOf = ({ what, logId }: Pick<InLog, 'what' | 'logId'>) => `${what}:${logId}`;

/** Somebody was quicker: the next time will tell what both are now. */
function isLate({ code }: Refused): boolean {
  return code === 'changed-elsewhere' || code === 'deleted-elsewhere';
}

async function mergeOne(copy: Copy, noted: InLog | undefined, log: LoggedBook): Promise<void> {
  const { what, logId, row, isMain, isShotWith } = copy;
  const there: Row | undefined = log[what].get(logId);
  // Before agreement was noted, no other device could have changed what this one had sent.
  const agreed = noted ? noted.agreed : there;
  const step = mergeStep<Row>({ here: row, there, agreed, isShotWith });
  if (step === 'send' || (!isMain && there === undefined)) {
    await needArcher(copy, log);
    await sendOver(copy, log);
    return;
  }
  if (step === 'none') {
    if (noted === undefined || noted.conflict || !isSame(noted.agreed, row)) await agree(copy, row);
    return;
  }
  // What somebody made of their own copy is theirs.
  if (!isMain) return;
  if (step === 'take') {
    await putHere(copy, there!, log);
    await agree(copy, there!);
  } else if (!isSame(noted?.conflict?.there, there ?? null)) {
    const { ownId } = copy;
    const conflict = { there: there ?? null };
    const note = { key: keyOf(copy), what, logId, ownId, agreed: agreed ?? row, conflict };
    await (await database()).put('inLog', note);
  } else return;
  bookChanges.value++;
}

async function agree({ what, logId, ownId }: Copy, agreed: Row): Promise<void> {
  const note = { key: keyOf({ what, logId }), what, logId, ownId, agreed, conflict: null };
  await (await database()).put('inLog', note);
}

async function sendOver(copy: Copy, log: LoggedBook): Promise<void> {
  const { what, logId, row } = copy;
  const { path, schema } = KINDS[what];
  const there: Row | undefined = log[what].get(logId);
  let expected: string | null = null;
  if (there !== undefined) {
    const { content, version } = await getLog<Row>(`${path}/${logId}`, schema);
    if (!isSame(content, there)) return;
    expected = version;
  }
  await askLog(`${path}/${logId}`, { method: 'PUT', body: JSON.stringify(row), expected });
  (log[what] as Map<string, Row>).set(logId, row);
  await agree(copy, row);
}

async function needArcher({ row, archerName }: Copy, log: LoggedBook): Promise<void> {
  if (!('archerId' in row) || log.archers.has(row.archerId)) return;
  const archer: Archer = { id: row.archerId, name: archerName, hand: row.hand, notes: '' };
  await askLog(`archers/${archer.id}`, { method: 'PUT', body: JSON.stringify(archer) });
  log.archers.set(archer.id, archer);
}

/** Writes down here what the log has, unless a person has changed it here meanwhile. */
async function putHere(
  { what, ownId, row }: Pick<Copy, 'what' | 'ownId'> & { readonly row?: Row },
  there: Row,
  log: LoggedBook,
): Promise<void> {
  const write = (await database()).transaction(['bows', 'setUps'], 'readwrite');
  const bows = write.objectStore('bows');
  const setUps = write.objectStore('setUps');
  if ('archerId' in there) {
    const now = await bows.get(ownId);
    const isAsRead = !now || (row && isSame({ ...now, id: row.id, archerId: there.archerId }, row));
    const archerId = log.archers.get(there.archerId)?.name ?? there.archerId;
    if (isAsRead) await bows.put({ ...there, id: ownId, archerId });
  } else {
    const now = await setUps.get(ownId);
    const isAsRead = !now || (row && isSame({ ...now, id: row.id, bowId: there.bowId }, row));
    if (isAsRead) await setUps.put({ ...there, id: ownId, bowId: now?.bowId ?? there.bowId });
  }
  await write.done;
  if (what === 'set-up' && settings.value.setUpId === ownId && 'archived' in there) {
    settings.value = { ...settings.value, setUpId: null };
  }
}

/** What others have written down in the log, and this device does not know. */
async function takeNew(
  log: LoggedBook,
  known: {
    readonly here: ReadonlySet<string>;
    readonly own: ReadonlySet<string>;
    readonly notes: ReadonlyMap<string, InLog>;
  },
): Promise<void> {
  const isNew = (what: InLog['what'], id: string) =>
    !known.here.has(`${what}:${id}`) && !known.notes.has(`${what}:${id}`) && !known.own.has(id);
  const take = async (what: InLog['what'], row: Row) => {
    const common = { what, logId: row.id, ownId: row.id };
    await putHere(common, row, log);
    const note = { ...common, key: keyOf(common), agreed: row, conflict: null };
    await (await database()).put('inLog', note);
    bookChanges.value++;
  };
  for (const bow of log.bow.values()) {
    if (isNew('bow', bow.id) && isWrittenDown(bow)) await take('bow', bow);
  }
  const ofNoted = new Map([...known.notes.values()].map(({ logId, ownId }) => [logId, ownId]));
  const db = await database();
  for (const setUp of log['set-up'].values()) {
    if (!isNew('set-up', setUp.id) || !isWrittenDown(setUp)) continue;
    const bowId = ofNoted.get(setUp.bowId) ?? setUp.bowId;
    // A copy of a bow belongs to whoever it was made for.
    if (bowId !== setUp.bowId || !(await db.get('bows', bowId))) continue;
    await take('set-up', setUp);
  }
}

/** Deletes from the log what was deleted here: set-ups before the bows that they belong to. */
async function deleteGone(gone: readonly InLog[], log: LoggedBook): Promise<void> {
  const known = new Set(gone.map(({ logId }) => logId));
  /** Bows of which somebody has changed a set-up, or written a new one down. */
  const changed = new Set(
    [...log['set-up'].values()]
      .filter((setUp) => !known.has(setUp.id) && isWrittenDown(setUp))
      .map(({ bowId }) => bowId),
  );
  for (const note of [...gone].sort((a, b) => b.what.localeCompare(a.what))) {
    const there: Row | undefined = log[note.what].get(note.logId);
    if (there === undefined) await forget(note);
    else if (!isSame(there, note.agreed) || changed.has(note.logId)) {
      if ('bowId' in there) changed.add(there.bowId);
      await bringBack(
        note,
        there,
        log,
        '“{name}” was changed on another device since: it is back.',
      );
    } else await deleteThere(note, there, log);
  }
}

async function deleteThere(note: InLog, there: Row, log: LoggedBook): Promise<void> {
  const { what, logId } = note;
  const { path, schema } = KINDS[what];
  try {
    const { version } = await getLog<Row>(`${path}/${logId}`, schema);
    await askLog(`${path}/${logId}`, { method: 'DELETE', expected: version ?? undefined });
    await forget(note);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    if (error.code === 'in-use') {
      const archived = { ...there, archived: true as const };
      const why = '“{name}” was shot with on another device: it is archived instead.';
      await bringBack(note, archived, log, why);
    } else if (error.code.startsWith('unknown-')) await forget(note);
    else if (!isLate(error)) throw error;
  }
}

async function forget({ key }: InLog): Promise<void> {
  await (await database()).delete('inLog', key);
}

async function bringBack(
  note: InLog,
  row: Row,
  log: LoggedBook,
  why:
    | '“{name}” was changed on another device since: it is back.'
    | '“{name}” was shot with on another device: it is archived instead.',
): Promise<void> {
  const { what, logId, ownId } = note;
  // What stands there for another archer is theirs.
  if (logId !== ownId) return forget(note);
  await putHere(note, row, log);
  const agreed = log[what].get(logId)!;
  await (await database()).put('inLog', { ...note, agreed, conflict: null });
  bookChanges.value++;
  announce(say(why, { name: row.name }));
}

/** After a person chose what is here: the log's gives way with the next handing over. */
export async function insistOnBook(note: InLog): Promise<void> {
  const db = await database();
  const there = note.conflict?.there;
  if (there) await db.put('inLog', { ...note, agreed: there, conflict: null });
  else {
    await db.delete('inLog', note.key);
    // A bow comes back with its set-ups.
    const own = await db.getAllFromIndex('setUps', 'bowId', note.ownId);
    for (const one of await db.getAll('inLog')) {
      const isOwn = own.some(({ id }) => id === one.ownId);
      if (isOwn && one.conflict?.there === null) await db.delete('inLog', one.key);
    }
  }
  bookChanges.value++;
}

/** After a person chose what the log has: this device follows. */
export async function takeOverFromLog(note: InLog): Promise<void> {
  const { what, ownId, conflict } = note;
  const db = await database();
  const { shelf } = KINDS[what];
  if (conflict?.there) {
    const now = await db.get(shelf, ownId);
    const { there } = conflict;
    const kept = now && 'archerId' in now ? { archerId: now.archerId } : { bowId: now?.bowId };
    await db.put(shelf, { ...there, ...kept, id: ownId } as Bow & SetUp);
    await db.put('inLog', { ...note, agreed: there, conflict: null });
  } else {
    const own = what === 'bow' ? await db.getAllFromIndex('setUps', 'bowId', ownId) : [];
    const gone = new Set([ownId, ...own.map(({ id }) => id)]);
    for (const id of gone) await db.delete(id === ownId ? shelf : 'setUps', id);
    for (const one of await db.getAll('inLog')) {
      if (gone.has(one.ownId)) await db.delete('inLog', one.key);
    }
    if (gone.has(settings.value.setUpId ?? ''))
      settings.value = { ...settings.value, setUpId: null };
  }
  bookChanges.value++;
}
