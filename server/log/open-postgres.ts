import { randomInt, randomUUID } from 'node:crypto';
import { buffer } from 'node:stream/consumers';
import { setTimeout as wait } from 'node:timers/promises';
import { CompiledQuery, Kysely, PostgresDialect, sql } from 'kysely';
import { Client, types, type Pool, type PoolConfig } from 'pg';
import { copyBytes } from './copied-bytes.ts';
import {
  explainOpening,
  explainPostgres,
  isAway,
  isOvertaken,
  isReadOnly,
  isStarting,
  type DatabasePlace,
} from './explain-postgres.ts';
import { badAddress } from './log-address.ts';
import { LogError } from './log-error.ts';
import { PhotoTable } from './photo-table.ts';
import { POSTGRES_MIGRATIONS } from './postgres-migrations.ts';
import { postgresPool } from './postgres-pool.ts';
import type { PostgresTables } from './postgres-tables.ts';
import { TryTable } from './try-table.ts';
import { postgresRows } from './postgres-rows.ts';
import { readRecords, type RecordVisitor } from './read-records.ts';
import {
  PATIENCE_MS,
  type Storage,
  type StorageOptions,
  type Tx,
  type WriteOptions,
} from './storage.ts';

/** Of one process. PostgreSQL lets in some hundred by itself. */
const MAX_CONNECTIONS = 10;

/** However busy the log and slow the machine is, a conflict is tried again so often. */
const LEAST_TRIES = 12;

/** However little patience there is, a busy machine takes as long to let somebody in, ms. */
const LEAST_CONNECTING_MS = 2_000;

/** Counts and places, which PostgreSQL has as 64 bits, stay far below what a number holds exactly. */
const INT8 = 20;

/** Any number of endwise's own: two processes that start at once migrate one after the other. */
const MIGRATION_LOCK = 0x65_6e_64_77;

/** Marks of commits serve whoever lost the connection at that moment, ever so briefly. */
const MARKS_FROM = sql<Date>`now() - interval '1 hour'`;
/** An archive that was not taken in to its end within days will not be. */
const INCOMING_FROM = sql<Date>`now() - interval '7 days'`;
const SWEEP_ONCE_IN = 200;

const LARGE_TABLES = 'archers, bows, set_ups, sessions, ends, arrows';

/** PostgreSQL 13. */
const LEAST_VERSION = 130_000;

type Database = Kysely<PostgresTables>;

/**
 * A log in PostgreSQL, photos included.
 *
 * Reading runs in `repeatable read, read only`: all queries of one answer see one state, and nothing is
 * ever refused or waited for. Writing reads first what it rests on (whose the bow is, whether the photo
 * is kept already, the version that is changed), so it runs in `serializable`: what would not have come
 * out so one after the other is refused by PostgreSQL and tried again here. Counters of tries are one
 * statement each, for which `read committed` is enough.
 * @param address postgres://user@host/database, as libpq has it; the password may come from PGPASSWORD
 * @throws LogError
 */
export async function openPostgres(
  address: string,
  { patienceMs = PATIENCE_MS }: StorageOptions = {},
): Promise<Storage> {
  const { pool, place } = connect(address, patienceMs);
  const db: Database = new Kysely({ dialect: new PostgresDialect({ pool }) });
  let migrated: readonly string[];
  try {
    migrated = await tried(() => migrate(db), { again: isStarting, patienceMs });
  } catch (error) {
    await db.destroy();
    throw explainOpening(error, place);
  }
  return new PostgresStorage({ db, pool }, migrated, patienceMs);
}

class PostgresStorage implements Storage {
  readonly photos: PhotoTable;
  readonly photoFolder = null;
  readonly tries: TryTable;
  readonly tidied = { putAside: [], takenBack: [] };
  readonly migrated: readonly string[];
  readonly #db: Database;
  readonly #patienceMs: number;

  constructor(
    { db, pool }: { db: Database; pool: Pool },
    migrated: readonly string[],
    patienceMs: number,
  ) {
    this.#db = db;
    this.migrated = migrated;
    this.#patienceMs = patienceMs;
    this.photos = new PhotoTable(this, (select) =>
      this.#tried(isAway, () => buffer(copyBytes(pool, select))),
    );
    this.tries = new TryTable(db, (work) => this.#tried(isAway, work));
  }

  read<T>(work: (tx: Tx) => Promise<T>): Promise<T> {
    return this.#tried(
      (error) => isAway(error) || isOvertaken(error),
      () =>
        this.#db.connection().execute(async (connection) => {
          await raw(connection, 'BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
          return inTransaction(connection, work, () => raw(connection, 'COMMIT'));
        }),
    );
  }

  async write<T>(work: (tx: Tx) => Promise<T>, { isLarge = false }: WriteOptions = {}): Promise<T> {
    const done = await this.#tried(
      (error) => isAway(error) || isOvertaken(error) || isReadOnly(error),
      () => this.#writeOnce(work),
    );
    // Until PostgreSQL looks by itself, it would choose its ways for tables as small as they were.
    if (isLarge)
      await sql
        .raw(`ANALYZE ${LARGE_TABLES}`)
        .execute(this.#db)
        .catch(() => undefined);
    if (randomInt(SWEEP_ONCE_IN) === 0) await this.#sweep();
    return done;
  }

  readRecords(newVisitor: () => RecordVisitor | Promise<RecordVisitor>): Promise<void> {
    return this.read(async (tx) => readRecords(postgresRows(tx), await newVisitor()));
  }

  /** PostgreSQL keeps structure and references by itself; damage within a row shows by its seal. */
  async isSound(): Promise<boolean> {
    const { rows } = await this.read((tx) =>
      sql`SELECT 1 FROM pg_constraint WHERE contype = 'f' AND NOT convalidated`.execute(tx),
    );
    return rows.length === 0;
  }

  async close(): Promise<void> {
    await this.photos.close();
    await this.#db.destroy();
  }

  async #writeOnce<T>(work: (tx: Tx) => Promise<T>): Promise<T> {
    const mark = randomUUID();
    let result: { readonly of: T } | null = null;
    try {
      return await this.#db.connection().execute(async (connection) => {
        // Reading a small table row by row would count as having read all of it.
        await raw(connection, 'BEGIN ISOLATION LEVEL SERIALIZABLE; SET LOCAL enable_seqscan = off');
        return inTransaction(
          connection,
          async (tx) => {
            await tx
              .withTables<Pick<PostgresTables, 'commits'>>()
              .insertInto('commits')
              .values({ id: mark })
              .execute();
            return work(tx);
          },
          async (done) => {
            result = { of: done };
            await raw(connection, 'COMMIT');
          },
        );
      });
    } catch (error) {
      // Lost at the commit itself, which may have been made: it is not done twice, nor said undone.
      const unsure = result as { readonly of: T } | null;
      if (unsure !== null && isAway(error) && (await this.#wasCommitted(mark))) return unsure.of;
      throw error;
    }
  }

  /** @throws LogError where that cannot be learned in time */
  async #wasCommitted(mark: string): Promise<boolean> {
    try {
      const found = await this.#tried(isAway, async () => {
        await this.#settled(mark);
        return this.#db
          .selectFrom('commits')
          .select('id')
          .where('id', '=', mark)
          .executeTakeFirst();
      });
      return found !== undefined;
    } catch (cause) {
      throw new LogError(
        'log-away',
        'The database of the log went away at the moment of keeping this: look whether it is kept, or send it again.',
        { cause },
      );
    }
  }

  /** The lost connection may live on in the database: its row is waited for, by trying to make it. */
  async #settled(mark: string): Promise<void> {
    await this.#db.connection().execute(async (connection) => {
      await raw(connection, `BEGIN; SET LOCAL lock_timeout = ${this.#patienceMs}`);
      await inTransaction(
        connection,
        () =>
          connection
            .insertInto('commits')
            .values({ id: mark })
            .onConflict((oc) => oc.doNothing())
            .execute(),
        () => raw(connection, 'ROLLBACK'),
      );
    });
  }

  /** Left over; where it does not work now, it will another time. */
  async #sweep(): Promise<void> {
    const marks = this.#db.deleteFrom('commits').where('at', '<', MARKS_FROM);
    const incoming = this.#db
      .deleteFrom('photos')
      .where('end_id', 'is', null)
      .where('stored_at', '<', INCOMING_FROM);
    await marks.execute().catch(() => undefined);
    await incoming.execute().catch(() => undefined);
    const tries = this.#db.deleteFrom('tries').where('ends_at', '<', sql<Date>`now()`);
    await tries.execute().catch(() => undefined);
  }

  async #tried<T>(again: (error: unknown) => boolean, work: () => Promise<T>): Promise<T> {
    try {
      return await tried(work, { again, patienceMs: this.#patienceMs });
    } catch (error) {
      throw explainPostgres(error);
    }
  }
}

/** Ends a transaction that was begun: by `commit`, or where `work` fails by rolling back. */
async function inTransaction<T>(
  connection: Database,
  work: (tx: Tx) => Promise<T>,
  commit: (done: T) => Promise<void>,
): Promise<T> {
  let done: T;
  try {
    done = await work(connection as unknown as Tx);
  } catch (error) {
    // Where the connection is lost there is nothing to roll back any more.
    await raw(connection, 'ROLLBACK').catch(() => undefined);
    throw error;
  }
  await commit(done);
  return done;
}

async function raw(db: Database, text: string): Promise<void> {
  await db.executeQuery(CompiledQuery.raw(text));
}

interface TriedOptions {
  /** Whether the same may go well a little later. */
  readonly again: (error: unknown) => boolean;
  readonly patienceMs: number;
}

async function tried<T>(work: () => Promise<T>, { again, patienceMs }: TriedOptions): Promise<T> {
  const until = performance.now() + patienceMs;
  for (let tries = 1; ; tries++) {
    try {
      return await work();
    } catch (error) {
      const patient = tries < LEAST_TRIES && isOvertaken(error);
      if (!again(error) || (!patient && performance.now() > until)) throw error;
      // Those who met do not meet again at once.
      await wait(randomInt(5, 20 * Math.min(tries, 10)));
    }
  }
}

/** Makes the layout, or brings it up to date. @returns what a person should know of it */
async function migrate(db: Database): Promise<string[]> {
  return db.transaction().execute(async (tx) => {
    await sql`SELECT pg_advisory_xact_lock(${MIGRATION_LOCK})`.execute(tx);
    const found = await sql<{ server: number; there: string | null }>`
      SELECT current_setting('server_version_num')::int AS server,
        to_regclass('endwise_layout')::text AS there`.execute(tx);
    const { server, there } = found.rows[0]!;
    if (server < LEAST_VERSION) {
      throw new LogError(
        'bad-database',
        `PostgreSQL ${Math.floor(server / 10_000)} is too old: endwise needs 13 or newer.`,
      );
    }
    if (there === null) {
      await sql`CREATE TABLE endwise_layout (version integer NOT NULL)`.execute(tx);
      await tx.insertInto('endwise_layout').values({ version: 0 }).execute();
    }
    const { version } = await tx
      .selectFrom('endwise_layout')
      .select('version')
      .executeTakeFirstOrThrow();
    if (version > POSTGRES_MIGRATIONS.length) {
      throw new LogError(
        'newer-log',
        'The log was written by a newer endwise: update endwise, nothing was changed.',
      );
    }
    const said: (string | null)[] = [];
    for (const change of POSTGRES_MIGRATIONS.slice(version)) {
      said.push(await change(tx as unknown as Tx));
    }
    if (version < POSTGRES_MIGRATIONS.length) {
      await tx.updateTable('endwise_layout').set({ version: POSTGRES_MIGRATIONS.length }).execute();
    }
    return said.filter((sentence) => sentence !== null);
  });
}

/** @returns what makes a value of what PostgreSQL sends, by the number of its type */
function parserOf(oid: number, format?: 'text' | 'binary'): (sent: string) => unknown {
  if (oid === INT8) return Number;
  return types.getTypeParser(oid, format) as (sent: string) => unknown;
}

function connect(address: string, patienceMs: number): { pool: Pool; place: DatabasePlace } {
  const config: PoolConfig = {
    connectionString: address,
    max: MAX_CONNECTIONS,
    connectionTimeoutMillis: Math.max(patienceMs, LEAST_CONNECTING_MS),
    idle_in_transaction_session_timeout: 60_000,
    types: { getTypeParser: (oid, format) => parserOf(oid, format) },
  };
  // Connects to nothing: it says what the driver makes of address and environment.
  let place: DatabasePlace;
  try {
    const { host, port, database, user } = new Client(config);
    place = { host, port, database: database ?? '', user: user ?? '' };
  } catch (error) {
    const { code, path } = error as { code?: unknown; path?: unknown };
    // A file that the address or PGSSLROOTCERT names.
    if (typeof code === 'string' && typeof path === 'string') {
      throw new LogError(
        'bad-database',
        `The file ${path}, which the address of the database names, cannot be read (${code}): look whether it is there.`,
      );
    }
    throw badAddress();
  }
  return { pool: postgresPool(config), place };
}
