import { existsSync } from 'node:fs';
import { mkdir, readFile, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { inject } from 'vitest';
import { findPostgres } from './find-postgres.ts';
import { newDatabase, startPostgres } from './start-postgres.ts';

/** Whether tests with PostgreSQL run here: `describe.skipIf(!hasPostgres)`. Where not, the end of the tests says so. */
export const hasPostgres = findPostgres() !== null;

/** Longest that one test file waits for the server that another starts, ms. */
const PATIENCE_MS = 60_000;

/** The address of a new, empty database on the PostgreSQL that test files share. */
export async function databaseOfTests(): Promise<string> {
  return newDatabase(await sharedUrl());
}

async function sharedUrl(): Promise<string> {
  const folder = inject('postgresFolder');
  const address = join(folder, 'address');
  const isFirst = await mkdir(join(folder, 'starting')).then(
    () => true,
    () => false,
  );
  if (isFirst) {
    const { url } = await startPostgres({ folder });
    await writeFile(`${address}.part`, url);
    await rename(`${address}.part`, address);
  }
  for (const until = Date.now() + PATIENCE_MS; !existsSync(address); await wait(20)) {
    if (Date.now() > until) throw new Error('The PostgreSQL of the tests did not start.');
  }
  return readFile(address, 'utf8');
}
