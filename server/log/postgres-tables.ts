import type { Generated } from 'kysely';
import type { Tx } from './storage.ts';
import type { Tables } from './tables.ts';

/** Rows that only PostgreSQL holds. */
export interface PostgresOnlyTables {
  endwise_layout: { version: number };
  photos: {
    file: string;
    /** Null while it is of an archive that is being taken in. */
    end_id: string | null;
    sha256: string;
    /** In that archive. */
    sent_sha256: string | null;
    stored_at: Generated<Date>;
    bytes: Buffer;
  };
  commits: { id: string; at: Generated<Date> };
  tries: { key: string; count: number; ends_at: Date };
}

export type PostgresTables = Tables & PostgresOnlyTables;

/** The same transaction, with the table of photos. */
export function photosOf(tx: Tx) {
  return tx.withTables<Pick<PostgresOnlyTables, 'photos'>>();
}
