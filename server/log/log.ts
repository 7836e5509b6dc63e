import { sql, type Kysely, type Selectable } from 'kysely';
import { checkBow, checkSetUp } from '../../src/tuning/bow/check-set-up.ts';
import {
  archerSchema,
  endSchema,
  sessionSchema,
  type Archer,
  type End,
  type Session,
} from '../../src/tuning/record/session.ts';
import { bowSchema, setUpSchema, type Bow, type SetUp } from '../../src/tuning/bow/set-up.ts';
import type { BowLog, WholeLog } from '../../src/tuning/record/bow-log.ts';
import { DeviceStore } from './device-store.ts';
import { explainStorage } from './explain-storage.ts';
import { LogError } from './log-error.ts';
import { openDatabase, type DatabaseOptions, type OpenDatabase } from './open-database.ts';
import { PhotoStore, type StoredPhoto } from './photo-store.ts';
import type { Tables } from './tables.ts';

/** What belongs together when a bow is judged. */
export interface LogOfBow extends BowLog {
  readonly archer: Archer;
  readonly bow: Bow;
}

/** An end with the hash of its photo as it was sent. */
export interface LoggedEnd extends End {
  readonly sourceSha256: string | null;
}

type Tx = Kysely<Tables>;

/**
 * Archers, bows, set-ups, sessions and ends. What a call has returned from is on the disk. Putting
 * something whose id is known replaces it, so that a client may send again what it is not sure of;
 * only set-ups never change.
 */
export class Log {
  readonly photos: PhotoStore;
  /** Who may reach the log over the network. */
  readonly devices: DeviceStore;
  readonly #open: OpenDatabase;

  private constructor(open: OpenDatabase, photos: PhotoStore) {
    this.#open = open;
    this.photos = photos;
    this.devices = new DeviceStore(open.db);
  }

  /**
   * @param folder the data folder; made when it is not there
   * @throws LogError
   */
  static async open(folder: string, options: DatabaseOptions = {}): Promise<Log> {
    const log = new Log(await openDatabase(folder, options), new PhotoStore(folder));
    const rows = await log.#db.selectFrom('ends').select('photo_file').execute();
    await log.photos.removeOrphans(
      new Set(rows.flatMap(({ photo_file }) => (photo_file === null ? [] : [photo_file]))),
    );
    return log;
  }

  get #db(): Kysely<Tables> {
    return this.#open.db;
  }

  async close(): Promise<void> {
    await this.photos.close();
    await this.#db.destroy();
  }

  archers(): Promise<Archer[]> {
    return archersOf(this.#db);
  }

  async putArcher(archer: Archer): Promise<void> {
    await this.#write((tx) => putArcher(tx, archer));
  }

  /**
   * Removes an archer with bows, sessions, ends and photos.
   * @returns how many ends and photos went with them
   */
  async deleteArcher(id: string): Promise<{ ends: number; photos: number }> {
    const ends = await this.#write(async (tx) => {
      const rows = await tx
        .selectFrom('ends')
        .select('photo_file')
        .where('archer_id', '=', id)
        .execute();
      // Sessions and ends first: they hold on to set-ups, which go with the bows.
      await tx.deleteFrom('sessions').where('archer_id', '=', id).execute();
      const { numDeletedRows } = await tx
        .deleteFrom('archers')
        .where('id', '=', id)
        .executeTakeFirst();
      if (numDeletedRows === 0n) throw unknown('archer', id);
      return rows;
    });
    const photos = ends.flatMap(({ photo_file }) => (photo_file === null ? [] : [photo_file]));
    await this.photos.remove(photos);
    this.#open.connection.pragma('wal_checkpoint(TRUNCATE)');
    return { ends: ends.length, photos: photos.length };
  }

  async bows(archerId?: string): Promise<Bow[]> {
    const query = this.#db.selectFrom('bows').selectAll().orderBy('name');
    const rows = await (
      archerId === undefined ? query : query.where('archer_id', '=', archerId)
    ).execute();
    return rows.map(bowOf);
  }

  async putBow(bow: Bow): Promise<void> {
    await this.#write((tx) => putBow(tx, bow));
  }

  async setUps(bowId?: string): Promise<SetUp[]> {
    const query = this.#db.selectFrom('set_ups').selectAll().orderBy('date');
    const rows = await (bowId === undefined ? query : query.where('bow_id', '=', bowId)).execute();
    return rows.map(setUpOf);
  }

  async putSetUp(setUp: SetUp): Promise<void> {
    await this.#write(async (tx) => {
      // A bow may lose an adjuster later: only new set-ups are held against the bow of today.
      if ((await setUpRow(tx, setUp.id)) === undefined) await checkNewSetUp(tx, setUp);
      await putSetUp(tx, setUp);
    });
  }

  async sessions(archerId?: string): Promise<Session[]> {
    const query = this.#db.selectFrom('sessions').selectAll().orderBy('date');
    const rows = await (
      archerId === undefined ? query : query.where('archer_id', '=', archerId)
    ).execute();
    return rows.map(sessionOf);
  }

  async putSession(session: Session): Promise<void> {
    await this.#write((tx) => putSession(tx, session));
  }

  /** Ends with their arrows, oldest first; of one archer, or of all. */
  async ends(archerId?: string): Promise<LoggedEnd[]> {
    return endsOf(this.#db, archerId);
  }

  /** @throws LogError when there is no such end */
  async end(id: string): Promise<LoggedEnd> {
    const end = (await endsOf(this.#db, undefined, id))[0];
    if (end === undefined) throw unknown('end', id);
    return end;
  }

  /**
   * Keeps an end. When this returns, the end and its photo survive a power cut.
   * @param photo its photo as it was sent; without one, a photo kept with this end before stays
   * @throws LogError 'same-photo' when another end of this archer has that photo; PhotoError
   */
  async putEnd(end: End, photo?: Uint8Array): Promise<End> {
    const stored = photo === undefined ? undefined : await this.#store(photo);
    let replaced: string | null = null;
    try {
      const kept = await this.#write(async (tx) => {
        const before = await tx
          .selectFrom('ends')
          .select(['photo_file', 'photo_sha256', 'source_sha256'])
          .where('id', '=', end.id)
          .executeTakeFirst();
        const source = stored ? stored.sourceSha256 : (before?.source_sha256 ?? null);
        const place = stored ? { file: stored.file, sha256: stored.sha256 } : placeOf(before);
        replaced = stored ? (before?.photo_file ?? null) : null;
        const row: LoggedEnd = { ...end, photo: place, sourceSha256: source };
        await putEnd(tx, row);
        return row;
      });
      if (replaced !== null) await this.photos.remove([replaced]);
      return { ...end, photo: kept.photo };
    } catch (error) {
      if (stored) await this.photos.remove([stored.file]);
      throw error;
    }
  }

  async deleteEnd(id: string): Promise<void> {
    const end = await this.end(id);
    await this.#write((tx) => tx.deleteFrom('ends').where('id', '=', id).execute());
    if (end.photo !== null) await this.photos.remove([end.photo.file]);
  }

  /** @throws LogError when there is no such bow */
  async bowLog(bowId: string): Promise<LogOfBow> {
    const bow = (await this.bows()).find((one) => one.id === bowId);
    if (bow === undefined) throw unknown('bow', bowId);
    const archer = (await this.archers()).find((one) => one.id === bow.archerId)!;
    const sessions = (await this.sessions(archer.id)).filter((one) => one.bowId === bowId);
    const ids = new Set(sessions.map((session) => session.id));
    const ends = (await this.ends(archer.id)).filter((end) => ids.has(end.sessionId));
    return { archer, bow, setUps: await this.setUps(bowId), sessions, ends };
  }

  /** One consistent view of everything. */
  async everything(): Promise<WholeLog<LoggedEnd>> {
    return this.#write(async (tx) => ({
      archers: await archersOf(tx),
      bows: (await tx.selectFrom('bows').selectAll().orderBy('id').execute()).map(bowOf),
      setUps: (await tx.selectFrom('set_ups').selectAll().orderBy('date').execute()).map(setUpOf),
      sessions: (await tx.selectFrom('sessions').selectAll().orderBy('date').execute()).map(
        sessionOf,
      ),
      ends: await endsOf(tx),
    }));
  }

  /** Fills an empty log at once, or not at all. @throws LogError 'not-empty' */
  async fill(whole: WholeLog<LoggedEnd>): Promise<void> {
    await this.#write(async (tx) => {
      if ((await archersOf(tx)).length > 0) {
        throw new LogError(
          'not-empty',
          'This log is not empty: import into an empty one (ENDWISE_DATA names another folder).',
        );
      }
      for (const archer of whole.archers) await putArcher(tx, archer);
      for (const bow of whole.bows) await putBow(tx, bow);
      for (const setUp of whole.setUps) await putSetUp(tx, setUp);
      for (const session of whole.sessions) await putSession(tx, session);
      for (const end of whole.ends) await putEnd(tx, end);
    });
  }

  /** Whether SQLite finds the file sound. */
  isSound(): boolean {
    return this.#open.connection.pragma('integrity_check', { simple: true }) === 'ok';
  }

  async #store(photo: Uint8Array): Promise<StoredPhoto> {
    try {
      return await this.photos.add(photo);
    } catch (error) {
      throw explainStorage(error);
    }
  }

  async #write<T>(work: (tx: Tx) => Promise<T>): Promise<T> {
    try {
      return await this.#db.transaction().execute(work);
    } catch (error) {
      throw explainStorage(error);
    }
  }
}

function unknown(what: 'archer' | 'bow' | 'set-up' | 'session' | 'end', id: string): LogError {
  return new LogError(`unknown-${what}`, `There is no ${what} "${id}" in the log.`);
}

async function archersOf(db: Tx): Promise<Archer[]> {
  const rows = await db.selectFrom('archers').selectAll().orderBy('name').execute();
  return rows.map((row) => archerSchema.parse(row));
}

async function putArcher(tx: Tx, { id, name, hand, notes }: Archer): Promise<void> {
  await tx
    .insertInto('archers')
    .values({ id, name, hand, notes })
    .onConflict((oc) => oc.column('id').doUpdateSet({ name, hand, notes }))
    .execute();
}

async function putBow(tx: Tx, bow: Bow): Promise<void> {
  const problem = checkBow(bow)[0];
  if (problem) throw new LogError('bad-set-up', problem.message);
  await known(tx, 'archers', 'archer', bow.archerId);
  const { id, archerId, name, hand, notes } = bow;
  const values = { name, hand, notes, adjusters: JSON.stringify(bow.adjusters) };
  await tx
    .insertInto('bows')
    .values({ id, archer_id: archerId, ...values })
    .onConflict((oc) => oc.column('id').doUpdateSet(values))
    .execute();
}

async function putSetUp(tx: Tx, setUp: SetUp): Promise<void> {
  await known(tx, 'bows', 'bow', setUp.bowId);
  const before = await setUpRow(tx, setUp.id);
  if (before !== undefined) {
    const { settings, preferredMrad, bowId } = setUpOf(before);
    const same =
      bowId === setUp.bowId &&
      equalJson(settings, setUp.settings) &&
      equalJson(preferredMrad, setUp.preferredMrad);
    if (!same) {
      throw new LogError(
        'snapshot-changed',
        `The set-up "${before.name}" was kept with other values: keep this one as a new set-up.`,
      );
    }
  }
  const { id, bowId, name, date, notes, preferredMrad } = setUp;
  await tx
    .insertInto('set_ups')
    .values({
      id,
      bow_id: bowId,
      name,
      date,
      settings: JSON.stringify(setUp.settings),
      preferred_right_mrad: preferredMrad[0],
      preferred_up_mrad: preferredMrad[1],
      notes,
    })
    .onConflict((oc) => oc.column('id').doUpdateSet({ name, date, notes }))
    .execute();
}

function setUpRow(tx: Tx, id: string) {
  return tx.selectFrom('set_ups').selectAll().where('id', '=', id).executeTakeFirst();
}

async function checkNewSetUp(tx: Tx, setUp: SetUp): Promise<void> {
  const row = await tx
    .selectFrom('bows')
    .selectAll()
    .where('id', '=', setUp.bowId)
    .executeTakeFirst();
  if (row === undefined) throw unknown('bow', setUp.bowId);
  const problem = checkSetUp(bowOf(row), setUp)[0];
  if (problem) throw new LogError('bad-set-up', problem.message);
}

async function putSession(tx: Tx, session: Session): Promise<void> {
  await known(tx, 'archers', 'archer', session.archerId);
  await known(tx, 'bows', 'bow', session.bowId);
  await known(tx, 'set_ups', 'set-up', session.setUpId);
  const { id, archerId, bowId, setUpId, distanceM, ...rest } = session;
  const values = {
    bow_id: bowId,
    set_up_id: setUpId,
    distance_m: distanceM,
    date: rest.date,
    place: rest.place,
    setting: rest.setting,
    wind: rest.wind,
    face: rest.face,
    notes: rest.notes,
  };
  await tx
    .insertInto('sessions')
    .values({ id, archer_id: archerId, ...values })
    .onConflict((oc) => oc.column('id').doUpdateSet(values))
    .execute();
}

async function putEnd(tx: Tx, end: LoggedEnd): Promise<void> {
  const session = await tx
    .selectFrom('sessions')
    .select('archer_id')
    .where('id', '=', end.sessionId)
    .executeTakeFirst();
  if (session === undefined) throw unknown('session', end.sessionId);
  await known(tx, 'set_ups', 'set-up', end.setUpId);
  await refuseSamePhoto(tx, end, session.archer_id);
  const values = {
    session_id: end.sessionId,
    archer_id: session.archer_id,
    set_up_id: end.setUpId,
    shot_at: end.shotAt,
    missed_fletched: end.missed.fletched,
    missed_bare: end.missed.bare,
    photo_file: end.photo?.file ?? null,
    photo_sha256: end.photo?.sha256 ?? null,
    source_sha256: end.sourceSha256,
    set_aside: Number(end.setAside),
    notes: end.notes,
  };
  await tx
    .insertInto('ends')
    .values({ id: end.id, ...values })
    .onConflict((oc) => oc.column('id').doUpdateSet(values))
    .execute();
  await tx.deleteFrom('arrows').where('end_id', '=', end.id).execute();
  if (end.arrows.length === 0) return;
  await tx
    .insertInto('arrows')
    .values(
      end.arrows.map((arrow, place) => ({
        end_id: end.id,
        place,
        id: arrow.id,
        x_mm: arrow.mm[0],
        y_mm: arrow.mm[1],
        sd_mm: arrow.sdMm ?? null,
        spot: arrow.spot,
        kind: arrow.kind,
        zone: arrow.zone,
        inner: Number(arrow.inner),
      })),
    )
    .execute();
}

async function refuseSamePhoto(tx: Tx, end: LoggedEnd, archerId: string): Promise<void> {
  if (end.sourceSha256 === null) return;
  const other = await tx
    .selectFrom('ends')
    .select('shot_at')
    .where('archer_id', '=', archerId)
    .where('source_sha256', '=', end.sourceSha256)
    .where('id', '!=', end.id)
    .executeTakeFirst();
  if (other === undefined) return;
  const when = other.shot_at.slice(0, 16).replace('T', ' ');
  throw new LogError(
    'same-photo',
    `This photo is kept already, with the end of ${when}: correct that end, or choose another photo.`,
  );
}

async function known(
  tx: Tx,
  table: 'archers' | 'bows' | 'set_ups',
  what: 'archer' | 'bow' | 'set-up',
  id: string,
): Promise<void> {
  const row = await tx
    .selectFrom(table)
    .select(sql<number>`1`.as('one'))
    .where('id', '=', id)
    .executeTakeFirst();
  if (row === undefined) throw unknown(what, id);
}

function bowOf(row: Selectable<Tables['bows']>): Bow {
  const { archer_id, adjusters, ...rest } = row;
  return bowSchema.parse({
    ...rest,
    archerId: archer_id,
    adjusters: JSON.parse(adjusters) as unknown,
  });
}

function setUpOf(row: Selectable<Tables['set_ups']>): SetUp {
  const { bow_id, settings, preferred_right_mrad, preferred_up_mrad, ...rest } = row;
  return setUpSchema.parse({
    ...rest,
    bowId: bow_id,
    settings: JSON.parse(settings) as unknown,
    preferredMrad: [preferred_right_mrad, preferred_up_mrad],
  });
}

function sessionOf(row: Selectable<Tables['sessions']>): Session {
  const { archer_id, bow_id, set_up_id, distance_m, ...rest } = row;
  return sessionSchema.parse({
    ...rest,
    archerId: archer_id,
    bowId: bow_id,
    setUpId: set_up_id,
    distanceM: distance_m,
  });
}

async function endsOf(db: Tx, archerId?: string, id?: string): Promise<LoggedEnd[]> {
  let ends = db.selectFrom('ends').selectAll().orderBy('shot_at').orderBy('id');
  let arrows = db
    .selectFrom('arrows')
    .innerJoin('ends', 'ends.id', 'arrows.end_id')
    .selectAll('arrows')
    .orderBy('arrows.place');
  if (archerId !== undefined) {
    ends = ends.where('archer_id', '=', archerId);
    arrows = arrows.where('ends.archer_id', '=', archerId);
  }
  if (id !== undefined) {
    ends = ends.where('id', '=', id);
    arrows = arrows.where('ends.id', '=', id);
  }
  const byEnd = new Map<string, Selectable<Tables['arrows']>[]>();
  for (const arrow of await arrows.execute()) {
    const own = byEnd.get(arrow.end_id);
    if (own) own.push(arrow);
    else byEnd.set(arrow.end_id, [arrow]);
  }
  return (await ends.execute()).map((row) => ({
    ...endSchema.parse({
      id: row.id,
      sessionId: row.session_id,
      setUpId: row.set_up_id,
      shotAt: row.shot_at,
      arrows: (byEnd.get(row.id) ?? []).map((arrow) => ({
        id: arrow.id,
        mm: [arrow.x_mm, arrow.y_mm],
        ...(arrow.sd_mm === null ? {} : { sdMm: arrow.sd_mm }),
        spot: arrow.spot,
        kind: arrow.kind,
        zone: arrow.zone,
        inner: arrow.inner === 1,
      })),
      missed: { fletched: row.missed_fletched, bare: row.missed_bare },
      photo: placeOf(row),
      setAside: row.set_aside === 1,
      notes: row.notes,
    }),
    sourceSha256: row.source_sha256,
  }));
}

function placeOf(
  row: Pick<Tables['ends'], 'photo_file' | 'photo_sha256'> | undefined,
): End['photo'] {
  if (!row || row.photo_file === null || row.photo_sha256 === null) return null;
  return { file: row.photo_file, sha256: row.photo_sha256 };
}

/** Equal but for the order of keys. */
function equalJson(a: unknown, b: unknown): boolean {
  return JSON.stringify(sorted(a)) === JSON.stringify(sorted(b));
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, inner]) => [key, sorted(inner)]),
  );
}
