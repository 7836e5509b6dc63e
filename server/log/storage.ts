import type { Kysely } from 'kysely';
import type { PhotoFolder, Tidied } from './photo-folder.ts';
import type { PhotoStore } from './photo-store.ts';
import type { RecordVisitor } from './read-records.ts';
import type { Tables } from './tables.ts';

export type Tx = Kysely<Tables>;

export interface StorageOptions {
  /** SQLite grows to at most so many pages of 4 KB. @default SQLite's own limit */
  readonly maxPages?: number;
  /** Longest wait for others that are writing, or for a database that is away, ms. @default 5000 */
  readonly patienceMs?: number;
}

export const PATIENCE_MS = 5000;

export interface WriteOptions {
  /** Whether much is written: others may read until it is kept, up to a size. @default false */
  readonly isLarge?: boolean;
}

/** Counts tries that a limit holds for, across all servers of a log. */
export interface TryCounter {
  /** One more, within a window that begins with the first. */
  count(key: string, windowMs: number): Promise<{ count: number; endsAt: Date }>;
  /** One less: that try does not count. */
  takeBack(key: string): Promise<void>;
  forget(key: string): Promise<void>;
}

/** Where a log's rows and photos lie: one of two engines behind the same queries. */
export interface Storage {
  readonly photos: PhotoStore;
  /** The folder of the photos; null where they lie in the database. */
  readonly photoFolder: PhotoFolder | null;
  /** Null where one server counts for itself. */
  readonly tries: TryCounter | null;
  /** What was done about photos that do not fit the rows, when it was opened. */
  readonly tidied: Tidied;
  /** What opening it changed in a log of an earlier endwise, each a sentence. */
  readonly migrated: readonly string[];
  /**
   * One consistent view for all queries of `work`, which may run more than once.
   * @throws LogError for troubles of the storage, as `write` does
   */
  read<T>(work: (tx: Tx) => Promise<T>): Promise<T>;
  /**
   * All of what `work` writes or nothing, as if nobody else had written meanwhile. What it resolves to
   * is on the disk. `work` may run more than once, and must then do the same.
   */
  write<T>(work: (tx: Tx) => Promise<T>, options?: WriteOptions): Promise<T>;
  /**
   * All that can be read, of one consistent view, some of it at a time: of a damaged log what is left.
   * @param newVisitor called again where reading begins anew
   */
  readRecords(newVisitor: () => RecordVisitor | Promise<RecordVisitor>): Promise<void>;
  /** Whether the engine finds its own structure sound, and every reference leads somewhere. */
  isSound(): Promise<boolean>;
  close(): Promise<void>;
}
