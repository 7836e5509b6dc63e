import { randomUUID } from 'node:crypto';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { Client } from 'pg';
import { isPostgresAddress } from '../../../server/log/log-address.ts';
import { databaseOfTests, hasPostgres } from '../postgres/postgres-of-tests.ts';

export type Engine = 'SQLite' | 'PostgreSQL';

/** What a test of the log runs against: where no PostgreSQL is installed, the end of the tests says so. */
export const ENGINES: readonly Engine[] = hasPostgres ? ['SQLite', 'PostgreSQL'] : ['SQLite'];

/** Where a new log of this engine goes. @param root for folders */
export async function newAddress(engine: Engine, root: string): Promise<string> {
  return engine === 'SQLite' ? join(root, `log-${randomUUID()}`) : databaseOfTests();
}

/** One query, past the log. */
export async function asked<Row = Record<string, unknown>>(
  address: string,
  text: string,
  values: unknown[] = [],
): Promise<Row[]> {
  const client = new Client({ connectionString: address });
  await client.connect();
  const { rows } = await client.query<never>(text, values).finally(() => client.end());
  return rows;
}

/** Names of the photos that are stored for a log. */
export async function photosIn(address: string): Promise<string[]> {
  if (!isPostgresAddress(address)) return readdirSync(join(address, 'photos')).sort();
  const rows = await asked<{ file: string }>(address, 'SELECT file FROM photos ORDER BY file');
  return rows.map(({ file }) => file);
}
