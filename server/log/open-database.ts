import { randomUUID } from 'node:crypto';
import { constants, existsSync, linkSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { access, chmod, mkdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { Kysely } from 'kysely';
import { damagedLog, explainStorage } from './explain-storage.ts';
import { LogError } from './log-error.ts';
import { MIGRATIONS } from './migrations.ts';
import { PatientDialect } from './patient-dialect.ts';
import { PATIENCE_MS, type StorageOptions } from './storage.ts';
import type { Tables } from './tables.ts';
import { syncFolder } from '../files/write-file-durably.ts';

export interface OpenDatabase {
  readonly db: Kysely<Tables>;
  /** The connection below, for what a query builder does not cover. */
  readonly connection: Database.Database;
  /** What opening it changed in a log of an earlier endwise, each a sentence. */
  readonly migrated: readonly string[];
}

/** In the data folder. */
export const DATABASE_FILE = 'log.sqlite';

/**
 * Opens the log's database, creating and migrating it as needed. Each commit is on the disk when it
 * returns, in the one file: a copy of that file is a copy of the log.
 * @throws LogError when it was written by a newer endwise, is damaged, cannot be written to, or the
 * disk is full
 */
export async function openDatabase(
  folder: string,
  { maxPages, patienceMs = PATIENCE_MS }: StorageOptions = {},
): Promise<OpenDatabase> {
  const path = join(folder, DATABASE_FILE);
  let connection: Database.Database | undefined;
  let migrated: readonly string[];
  try {
    await mkdir(folder, { recursive: true, mode: 0o700 });
    await access(folder, constants.W_OK);
    const size = await sizeOf(path);
    if (size === null) await createDatabase(folder, path);
    else if (size === 0) throw emptyFile(path);
    await access(path, constants.R_OK | constants.W_OK);
    await chmod(path, 0o600);
    connection = new Database(path, { fileMustExist: true, timeout: patienceMs });
    // Not a write-ahead log: its file would be part of the log, and whoever copies or puts back one
    // without the other loses what was kept.
    connection.pragma('journal_mode = DELETE');
    connection.pragma('synchronous = EXTRA');
    connection.pragma('foreign_keys = ON');
    // What is deleted must not be read back from the file.
    connection.pragma('secure_delete = ON');
    if (maxPages !== undefined) connection.pragma(`max_page_count = ${maxPages}`);
    migrated = migrate(connection, { isNew: false });
    if (!isSound(connection)) throw damagedLog();
    // From here on the dialect waits, without holding up the event loop.
    connection.pragma('busy_timeout = 0');
  } catch (error) {
    connection?.close();
    throw explainStorage(error);
  }
  return {
    connection,
    migrated,
    db: new Kysely<Tables>({ dialect: new PatientDialect(connection, patienceMs) }),
  };
}

/** Whether SQLite finds its structure sound, and every reference leads somewhere. */
export function isSound(connection: Database.Database): boolean {
  return (
    connection.pragma('integrity_check(1)', { simple: true }) === 'ok' &&
    (connection.pragma('foreign_key_check') as unknown[]).length === 0
  );
}

async function sizeOf(path: string): Promise<number | null> {
  try {
    return (await stat(path)).size;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
}

/**
 * A new log appears under its name only when it is whole: a file there that is empty, or no log, was
 * not left by a start that broke off.
 */
async function createDatabase(folder: string, path: string): Promise<void> {
  const part = join(folder, `.${randomUUID()}.part`);
  writeFileSync(part, '', { mode: 0o600, flag: 'wx' });
  try {
    const made = new Database(part);
    try {
      made.pragma('journal_mode = MEMORY');
      made.pragma('synchronous = FULL');
      migrate(made, { isNew: true });
    } finally {
      made.close();
    }
    setAsideOthersJournals(path);
    linkOnce(part, path);
  } finally {
    rmSync(part, { force: true });
  }
  await syncFolder(folder);
}

/** Of two processes that start at once, the second finds the log of the first. */
function linkOnce(part: string, path: string): void {
  try {
    linkSync(part, path);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST') return;
    // File systems of memory cards know no second name for a file.
    if (!NO_LINKS.has(code ?? '') || existsSync(path)) throw error;
    renameSync(part, path);
  }
}

const NO_LINKS = new Set(['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK']);

/** What SQLite would take for the new log's own and roll back into it, of a log that was moved away. */
function setAsideOthersJournals(path: string): void {
  for (const ending of ['-journal', '-wal', '-shm']) {
    const left = `${path}${ending}`;
    if (existsSync(left)) renameSync(left, `${left}-of-moved-log-${Date.now()}`);
  }
}

function emptyFile(path: string): LogError {
  return new LogError(
    'damaged-log',
    `The log file ${path} is empty, so what was kept is not in it any more: put back a copy of it, or move it away to start a new log.`,
  );
}

function migrate(connection: Database.Database, { isNew }: { isNew: boolean }): string[] {
  const step = connection.transaction((): string[] => {
    const version = connection.pragma('user_version', { simple: true }) as number;
    if (version === MIGRATIONS.length) return [];
    if (version > MIGRATIONS.length) {
      throw new LogError(
        'newer-log',
        'The log was written by a newer endwise: update endwise, nothing was changed.',
      );
    }
    if (version < 1 && !isNew) {
      throw damagedLog(undefined, 'The log file is none that endwise wrote, or it is damaged');
    }
    const said = MIGRATIONS.slice(version).map((change) => change(connection));
    connection.pragma(`user_version = ${MIGRATIONS.length}`);
    return said.filter((sentence) => sentence !== null);
  });
  // Immediate, so that two processes that start at once do not both migrate.
  return step.immediate();
}
