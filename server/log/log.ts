import type { Archer, End, Session } from '../../src/tuning/record/session.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import type { BowLog, WholeLog } from '../../src/tuning/record/bow-log.ts';
import { randomInt } from 'node:crypto';
import { CoachStore } from './coach-store.ts';
import { DeviceStore } from './device-store.ts';
import {
  archerOf,
  bowOf,
  endsOf,
  sessionOf,
  setUpOf,
  type EndFilter,
  type LoggedEnd,
} from './from-rows.ts';
import { LogError } from './log-error.ts';
import { isPostgresAddress } from './log-address.ts';
import type { PhotoFolder, Tidied } from './photo-folder.ts';
import type { IncomingPhoto, PhotoStore } from './photo-store.ts';
import { FirstRows } from './first-rows.ts';
import type { RecordVisitor } from './read-records.ts';
import type { Storage, StorageOptions, TryCounter, Tx } from './storage.ts';
import {
  deleteBow,
  deleteSetUp,
  dropIfEmpty,
  putArcher,
  putBow,
  putEnd,
  putSession,
  putSetUp,
  unknown,
} from './to-rows.ts';
import {
  COMMAND_LINE,
  forgetInTrail,
  noteInTrail,
  Trail,
  type Actor,
  type TrailKind,
} from './trail.ts';
import {
  needExpected,
  versionOfBow,
  versionOfEnd,
  versionOfSetUp,
  type Expected,
} from './version-of.ts';

export type { LoggedEnd } from './from-rows.ts';

/** What belongs together when a bow is judged. */
export interface LogOfBow extends BowLog {
  readonly archer: Archer;
  readonly bow: Bow;
}

/** Everything that a log holds, its ends some at a time. */
export interface StreamedLog extends Omit<WholeLog<LoggedEnd>, 'ends'> {
  readonly ends: () => AsyncIterable<readonly LoggedEnd[]>;
}

/** What is kept of somebody's record. */
type Part = Extract<TrailKind, 'archer' | 'bow' | 'set-up' | 'session' | 'end'>;

const TABLE_OF = {
  archer: 'archers',
  bow: 'bows',
  'set-up': 'set_ups',
  session: 'sessions',
  end: 'ends',
} as const;

/** Now and then is soon enough for a trail that is kept for years. */
const SWEEP_TRAIL_ONCE_IN = 500;

/**
 * Archers, bows, set-ups, sessions and ends. What a call has returned from is on the disk. Putting
 * something whose id is known replaces it, so that a client may send again what it is not sure of;
 * only set-ups never change. Whoever changes something (`by`) stands in the trail with it.
 */
export class Log {
  /** What opens it again: its folder, or the address of its database. */
  readonly address: string;
  /** Who may reach the log over the network. */
  readonly devices: DeviceStore;
  readonly coaches: CoachStore;
  readonly trail: Trail;
  readonly #storage: Storage;

  private constructor(address: string, storage: Storage) {
    this.address = address;
    this.#storage = storage;
    this.devices = new DeviceStore(storage);
    this.coaches = new CoachStore(storage);
    this.trail = new Trail(storage);
  }

  /**
   * @param address the data folder, made when it is not there; or postgres://...
   * @throws LogError
   */
  static async open(address: string, options: StorageOptions = {}): Promise<Log> {
    if (!isPostgresAddress(address)) {
      const { openSqlite } = await import('./open-sqlite.ts');
      return new Log(address, await openSqlite(address, options));
    }
    // Loaded by those alone who ask for it, as its driver is.
    const { openPostgres } = await import('./open-postgres.ts');
    return new Log(address, await openPostgres(address, options));
  }

  get photos(): PhotoStore {
    return this.#storage.photos;
  }

  /** The folder of the photos; null where they lie in the database. */
  get photoFolder(): PhotoFolder | null {
    return this.#storage.photoFolder;
  }

  /** Counts tries for all servers of a log; null where there is one that counts for itself. */
  get tries(): TryCounter | null {
    return this.#storage.tries;
  }

  /** What was done about photos that do not fit the log, when it was opened. */
  get tidied(): Tidied {
    return this.#storage.tidied;
  }

  /** What opening it changed in a log of an earlier endwise, each a sentence. */
  get migrated(): readonly string[] {
    return this.#storage.migrated;
  }

  /** Whether other servers on other machines may share it. */
  get isShared(): boolean {
    return isPostgresAddress(this.address);
  }

  async close(): Promise<void> {
    await this.#storage.close();
  }

  archers(): Promise<Archer[]> {
    return this.#storage.read(archersOf);
  }

  async putArcher(archer: Archer, by: Actor = COMMAND_LINE): Promise<void> {
    await this.#put('archer', archer.id, by, (tx) => putArcher(tx, archer));
  }

  /**
   * Removes an archer with bows, sessions, ends, photos, devices and photos that wait to be read; the
   * trail tells of them without saying who they were.
   * @returns how many ends and photos went with them
   */
  async deleteArcher(
    id: string,
    by: Actor = COMMAND_LINE,
  ): Promise<{ ends: number; photos: number }> {
    const ends = await this.#storage.write(async (tx) => {
      const rows = await tx
        .selectFrom('ends')
        .select('photo_file')
        .where('archer_id', '=', id)
        .execute();
      // Sessions and ends first: they hold on to set-ups, which go with the bows. Nobody else's do.
      await tx.deleteFrom('sessions').where('archer_id', '=', id).execute();
      const { numDeletedRows } = await tx
        .deleteFrom('archers')
        .where('id', '=', id)
        .executeTakeFirst();
      if (numDeletedRows === 0n) throw unknown('archer', id);
      await forgetInTrail(tx, id);
      const who = by.role === 'archer' ? { ...by, deviceId: null, label: '' } : by;
      await noteInTrail(tx, who, { done: 'deleted', kind: 'archer', id: null, archerId: null });
      return rows;
    });
    const photos = ends.flatMap(({ photo_file }) => (photo_file === null ? [] : [photo_file]));
    await this.photos.remove(photos);
    return { ends: ends.length, photos: photos.length };
  }

  async bows(archerId?: string): Promise<Bow[]> {
    return this.#storage.read(async (db) => {
      const query = db.selectFrom('bows').selectAll().orderBy('name').orderBy('id');
      const rows = await (
        archerId === undefined ? query : query.where('archer_id', '=', archerId)
      ).execute();
      return rows.map(bowOf);
    });
  }

  /**
   * @param expected the version that is changed; without it what is there is replaced
   * @returns its version
   */
  async putBow(bow: Bow, expected?: Expected, by: Actor = COMMAND_LINE): Promise<string> {
    await this.#put('bow', bow.id, by, (tx) => putBow(tx, bow, expected));
    return versionOfBow(bow);
  }

  setUps(bowId?: string): Promise<SetUp[]> {
    return this.#storage.read((tx) => setUpsOf(tx, bowId));
  }

  /**
   * @param expected the version that is corrected; without it a set-up that is there stays as it is
   * @returns its version
   */
  async putSetUp(setUp: SetUp, expected?: Expected, by: Actor = COMMAND_LINE): Promise<string> {
    await this.#put('set-up', setUp.id, by, (tx) => putSetUp(tx, setUp, { isNew: true, expected }));
    return versionOfSetUp(setUp);
  }

  /** @throws LogError 'in-use' where something was shot with it */
  async deleteSetUp(id: string, expected?: Expected, by: Actor = COMMAND_LINE): Promise<void> {
    await this.#delete('set-up', id, by, (tx) => deleteSetUp(tx, id, expected));
  }

  /** Removes a bow with its set-ups. @throws LogError 'in-use' where something was shot with it */
  async deleteBow(id: string, expected?: Expected, by: Actor = COMMAND_LINE): Promise<void> {
    await this.#delete('bow', id, by, (tx) => deleteBow(tx, id, expected));
  }

  sessions(archerId?: string): Promise<Session[]> {
    return this.#storage.read((tx) => sessionsOf(tx, { archerId }));
  }

  async putSession(session: Session, by: Actor = COMMAND_LINE): Promise<void> {
    await this.#put('session', session.id, by, (tx) => putSession(tx, session));
  }

  /** Ends with their arrows, oldest first; of one archer, or of all. */
  async ends(archerId?: string): Promise<LoggedEnd[]> {
    return this.#storage.read((db) => endsOf(db, { archerId }));
  }

  /** @throws LogError when there is no such end */
  async end(id: string): Promise<LoggedEnd> {
    const [end] = await this.#storage.read((db) => endsOf(db, { id }));
    if (end === undefined) throw unknown('end', id);
    return end;
  }

  /**
   * Keeps an end. When this returns, the end and its photo survive a power cut.
   * @param photo its photo as it was sent, or where it lies; without one, a photo kept with this end before stays
   * @param expected what of this end the log must hold now
   * @throws LogError 'same-photo' when another end of this archer has that photo; PhotoError
   */
  async putEnd(
    end: End,
    photo?: Uint8Array | { readonly path: string },
    expected?: Expected,
    by: Actor = COMMAND_LINE,
  ): Promise<End> {
    const stored =
      photo === undefined
        ? undefined
        : await this.photos.prepare('path' in photo ? photo : { bytes: photo });
    let replaced: string | null = null;
    try {
      const kept = await this.#put('end', end.id, by, async (tx) => {
        const [before] = await endsOf(tx, { id: end.id });
        const there = before ? versionOfEnd(before) : null;
        needExpected('end', there, versionOfEnd(end), expected);
        const source = stored ? stored.sourceSha256 : (before?.sourceSha256 ?? null);
        const place = stored
          ? { file: stored.file, sha256: stored.sha256 }
          : (before?.photo ?? null);
        replaced = stored ? (before?.photo?.file ?? null) : null;
        const row: LoggedEnd = { ...end, photo: place, sourceSha256: source };
        await putEnd(tx, row);
        await stored?.keepWith(tx, end.id);
        if (before && before.sessionId !== end.sessionId) await dropIfEmpty(tx, before.sessionId);
        return row;
      });
      if (replaced !== null) await this.photos.remove([replaced]);
      return { ...end, photo: kept.photo };
    } catch (error) {
      await stored?.discard();
      throw error;
    }
  }

  /** @param expected what of this end the log must hold now */
  async deleteEnd(id: string, expected?: Expected, by: Actor = COMMAND_LINE): Promise<void> {
    const end = await this.#delete('end', id, by, async (tx) => {
      const [there] = await endsOf(tx, { id });
      if (there === undefined) throw unknown('end', id);
      needExpected('end', versionOfEnd(there), null, expected);
      await tx.deleteFrom('ends').where('id', '=', id).execute();
      await dropIfEmpty(tx, there.sessionId);
      return there;
    });
    if (end.photo !== null) await this.photos.remove([end.photo.file]);
  }

  /** @throws LogError when there is no such bow */
  async bowLog(bowId: string): Promise<LogOfBow> {
    return this.#storage.read(async (tx) => {
      const row = await tx
        .selectFrom('bows')
        .selectAll()
        .where('id', '=', bowId)
        .executeTakeFirst();
      if (row === undefined) throw unknown('bow', bowId);
      const bow = bowOf(row);
      const archer = await tx
        .selectFrom('archers')
        .selectAll()
        .where('id', '=', bow.archerId)
        .executeTakeFirstOrThrow();
      return {
        archer: archerOf(archer),
        bow,
        setUps: await setUpsOf(tx, bowId),
        sessions: await sessionsOf(tx, { bowId }),
        ends: await endsOf(tx, { bowId }),
      };
    });
  }

  /** Whose a bow, set-up, session or end is; null where there is none of this id. */
  ownerOf(what: Part, id: string): Promise<string | null> {
    return this.#storage.read((tx) => ownerIn(tx, what, id));
  }

  /** Writes into the trail that an archive is handed out: also of a log that nothing fits in any more. */
  async noteExport(archerId: string | null, by: Actor): Promise<void> {
    const kind = archerId === null ? 'log' : 'archer';
    const noted = this.#storage.write((tx) =>
      noteInTrail(tx, by, { done: 'exported', kind, id: archerId, archerId }),
    );
    await noted.catch((error: unknown) => {
      if (!(error instanceof LogError)) throw error;
    });
  }

  /**
   * All that can be read, of one consistent view, some of it at a time: of a damaged log what is left.
   * @param newVisitor called again where reading begins anew
   */
  readRecords(newVisitor: () => RecordVisitor | Promise<RecordVisitor>): Promise<void> {
    return this.#storage.readRecords(newVisitor);
  }

  /** How many ends there are, and how many of them with a photo. */
  counts(): Promise<{ ends: number; photos: number }> {
    return this.#storage.read(async (tx) => {
      const { ends, photos } = await tx
        .selectFrom('ends')
        .select((eb) => [
          eb.fn.countAll<number>().as('ends'),
          eb.fn.count<number>('photo_file').as('photos'),
        ])
        .executeTakeFirstOrThrow();
      return { ends, photos };
    });
  }

  /** One consistent view of everything. @throws LogError where a part of it is damaged */
  async everything(): Promise<WholeLog<LoggedEnd>> {
    return this.#storage.read(async (tx) => ({
      archers: await archersOf(tx),
      bows: (await tx.selectFrom('bows').selectAll().orderBy('id').execute()).map(bowOf),
      setUps: await setUpsOf(tx),
      sessions: await sessionsOf(tx, {}),
      ends: await endsOf(tx),
    }));
  }

  /**
   * Fills an empty log at once, or not at all.
   * @param whole where its ends are a function, it hands them out from the first, whenever it is called
   * @param photos of its ends, that came in
   * @throws LogError 'not-empty'
   */
  async fill(
    whole: WholeLog<LoggedEnd> | StreamedLog,
    photos: readonly IncomingPhoto[],
    by: Actor = COMMAND_LINE,
  ): Promise<void> {
    const { incoming } = this.photos;
    const filling = this.#storage.write(
      async (tx) => {
        if ((await archersOf(tx)).length > 0) throw notEmpty();
        const rows = new FirstRows(tx);
        await rows.put(whole);
        const { ends } = whole;
        for await (const some of typeof ends === 'function' ? ends() : [ends]) {
          await rows.putEnds(some);
        }
        await incoming.keepWith(tx, photos);
        await noteInTrail(tx, by, { done: 'imported', kind: 'log', id: null, archerId: null });
      },
      { isLarge: true },
    );
    await filling.catch(async (error: unknown) => {
      await incoming.takeBack(photos);
      throw error;
    });
  }

  /** Whether the database finds itself sound, and every reference leads somewhere. */
  isSound(): Promise<boolean> {
    return this.#storage.isSound();
  }

  /** Puts something, and with it into the trail that it was put; what is there already is no deed. */
  #put<T>(kind: Part, id: string, by: Actor, work: (tx: Tx) => Promise<T>): Promise<T> {
    return this.#swept(async (tx) => {
      const before = await sealIn(tx, kind, id);
      const result = await work(tx);
      if ((await sealIn(tx, kind, id)) !== before) {
        const archerId = await ownerIn(tx, kind, id);
        const done = before === null ? 'kept' : 'changed';
        await noteInTrail(tx, by, { done, kind, id, archerId });
      }
      return result;
    });
  }

  #delete<T>(kind: Part, id: string, by: Actor, work: (tx: Tx) => Promise<T>): Promise<T> {
    return this.#swept(async (tx) => {
      const archerId = await ownerIn(tx, kind, id);
      const result = await work(tx);
      await noteInTrail(tx, by, { done: 'deleted', kind, id, archerId });
      return result;
    });
  }

  async #swept<T>(work: (tx: Tx) => Promise<T>): Promise<T> {
    const result = await this.#storage.write(work);
    if (randomInt(SWEEP_TRAIL_ONCE_IN) === 0) await this.trail.sweep().catch(() => undefined);
    return result;
  }
}

async function sealIn(tx: Tx, what: Part, id: string): Promise<string | null> {
  const row = await tx
    .selectFrom(TABLE_OF[what])
    .select('seal')
    .where('id', '=', id)
    .executeTakeFirst();
  return row?.seal ?? null;
}

async function ownerIn(tx: Tx, what: Part, id: string): Promise<string | null> {
  if (what === 'archer') {
    const row = await tx.selectFrom('archers').select('id').where('id', '=', id).executeTakeFirst();
    return row?.id ?? null;
  }
  const row = await (
    what === 'set-up'
      ? tx
          .selectFrom('set_ups')
          .innerJoin('bows', 'bows.id', 'set_ups.bow_id')
          .select('bows.archer_id')
          .where('set_ups.id', '=', id)
      : tx.selectFrom(TABLE_OF[what]).select('archer_id').where('id', '=', id)
  ).executeTakeFirst();
  return row?.archer_id ?? null;
}

/** Why an import is refused, and what to do. */
export function notEmpty(): LogError {
  return new LogError(
    'not-empty',
    'This log is not empty: import into an empty one (ENDWISE_DATA names another folder).',
  );
}

async function archersOf(db: Tx): Promise<Archer[]> {
  const rows = await db.selectFrom('archers').selectAll().orderBy('name').orderBy('id').execute();
  return rows.map(archerOf);
}

async function setUpsOf(db: Tx, bowId?: string): Promise<SetUp[]> {
  const query = db.selectFrom('set_ups').selectAll().orderBy('date').orderBy('id');
  const rows = await (bowId === undefined ? query : query.where('bow_id', '=', bowId)).execute();
  return rows.map(setUpOf);
}

async function sessionsOf(
  db: Tx,
  { archerId, bowId }: Pick<EndFilter, 'archerId' | 'bowId'>,
): Promise<Session[]> {
  let query = db.selectFrom('sessions').selectAll().orderBy('date').orderBy('id');
  if (archerId !== undefined) query = query.where('archer_id', '=', archerId);
  if (bowId !== undefined) query = query.where('bow_id', '=', bowId);
  return (await query.execute()).map(sessionOf);
}
