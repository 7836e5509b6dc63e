import { setTimeout as wait } from 'node:timers/promises';
import type Database from 'better-sqlite3';
import {
  CompiledQuery,
  SqliteDialect,
  SqliteDriver,
  type DatabaseConnection,
  type QueryResult,
  type TransactionSettings,
} from 'kysely';

/** How often a lock is tried again, ms. */
const TRY_EVERY_MS = 15;

/**
 * SQLite for one connection that shares its file with other processes. A lock of theirs is waited for
 * without holding up the event loop, as SQLite's own waiting would. A transaction that
 * may write takes the lock at its start: one that reads first and writes then is refused at once,
 * however long it may wait.
 */
export class PatientDialect extends SqliteDialect {
  readonly #database: Database.Database;
  readonly #patienceMs: number;

  constructor(database: Database.Database, patienceMs: number) {
    super({ database });
    this.#database = database;
    this.#patienceMs = patienceMs;
  }

  override createDriver(): PatientDriver {
    return new PatientDriver(this.#database, this.#patienceMs);
  }
}

class PatientDriver extends SqliteDriver {
  readonly #database: Database.Database;
  readonly #patienceMs: number;

  constructor(database: Database.Database, patienceMs: number) {
    super({ database });
    this.#database = database;
    this.#patienceMs = patienceMs;
  }

  override async acquireConnection(): Promise<DatabaseConnection> {
    const connection = await super.acquireConnection();
    return {
      executeQuery: <R>(query: CompiledQuery) => this.#executed<R>(connection, query),
      streamQuery: (query, chunkSize) => connection.streamQuery(query, chunkSize),
    };
  }

  override async beginTransaction(
    connection: DatabaseConnection,
    { accessMode }: TransactionSettings = {},
  ): Promise<void> {
    const begin = accessMode === 'read only' ? 'begin' : 'begin immediate';
    await connection.executeQuery(CompiledQuery.raw(begin));
  }

  /** SQLite has rolled back by itself where the disk was full: a second time would hide why. */
  override async rollbackTransaction(connection: DatabaseConnection): Promise<void> {
    if (this.#database.inTransaction) await super.rollbackTransaction(connection);
  }

  async #executed<R>(
    connection: DatabaseConnection,
    query: CompiledQuery,
  ): Promise<QueryResult<R>> {
    const until = performance.now() + this.#patienceMs;
    for (;;) {
      try {
        return await connection.executeQuery<R>(query);
      } catch (error) {
        if (!isBusy(error) || performance.now() > until) throw error;
        await wait(TRY_EVERY_MS);
      }
    }
  }
}

function isBusy(error: unknown): boolean {
  const { code } = error as { code?: unknown };
  return typeof code === 'string' && (code.startsWith('SQLITE_BUSY') || code === 'SQLITE_LOCKED');
}
