import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { Kysely, SqliteDialect } from 'kysely';
import { explainStorage } from './explain-storage.ts';
import { LogError } from './log-error.ts';
import { MIGRATIONS } from './migrations.ts';
import type { Tables } from './tables.ts';

export interface OpenDatabase {
  readonly db: Kysely<Tables>;
  /** The connection below, for what a query builder does not cover. */
  readonly connection: Database.Database;
}

export interface DatabaseOptions {
  /** The database grows to at most so many pages of 4 KB. @default SQLite's own limit */
  readonly maxPages?: number;
}

/** In the data folder. */
export const DATABASE_FILE = 'log.sqlite';

/** Longest wait for another process that is writing, ms. */
const BUSY_MS = 5000;

/**
 * Opens the log's database, creating and migrating it as needed. Each commit is on the disk when it
 * returns (write-ahead log, full sync).
 * @throws LogError when it was written by a newer endwise, is damaged, or the disk is full
 */
export async function openDatabase(
  folder: string,
  { maxPages }: DatabaseOptions = {},
): Promise<OpenDatabase> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  let connection: Database.Database | undefined;
  try {
    connection = new Database(join(folder, DATABASE_FILE), { timeout: BUSY_MS });
    connection.pragma('journal_mode = WAL');
    connection.pragma('synchronous = FULL');
    connection.pragma('foreign_keys = ON');
    // What is deleted must not be read back from the file.
    connection.pragma('secure_delete = ON');
    if (maxPages !== undefined) connection.pragma(`max_page_count = ${maxPages}`);
    migrate(connection);
  } catch (error) {
    connection?.close();
    throw explainStorage(error);
  }
  return {
    connection,
    db: new Kysely<Tables>({ dialect: new SqliteDialect({ database: connection }) }),
  };
}

function migrate(connection: Database.Database): void {
  const step = connection.transaction(() => {
    const version = connection.pragma('user_version', { simple: true }) as number;
    if (version > MIGRATIONS.length) {
      throw new LogError(
        'newer-log',
        'The log was written by a newer endwise: update endwise, nothing was changed.',
      );
    }
    for (const sql of MIGRATIONS.slice(version)) connection.exec(sql);
    connection.pragma(`user_version = ${MIGRATIONS.length}`);
  });
  // Immediate, so that two processes that start at once do not both migrate.
  step.immediate();
}
