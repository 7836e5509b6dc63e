import { dataFolder } from './data-folder.ts';
import { LogError } from './log-error.ts';

/** Whether an address names a PostgreSQL; else it is a folder. */
export function isPostgresAddress(address: string): boolean {
  return /^postgres(ql)?:/i.test(address);
}

/**
 * Where a person's log lies: what a command was told, else what ENDWISE_DATABASE says, else the data
 * folder.
 * @returns a folder, or the address of a database
 * @throws LogError where that is no address
 */
export function logAddress(said?: string, env: NodeJS.ProcessEnv = process.env): string {
  const database = said ?? env['ENDWISE_DATABASE'];
  if (database === undefined || database === '') return dataFolder(env);
  if (!isPostgresAddress(database)) throw badAddress();
  return database;
}

/** What the address is stays unsaid, as does what a parser says of it: a password may stand in it. */
export function badAddress(): LogError {
  return new LogError(
    'bad-database',
    'The address of the database is not well formed: it reads postgres://user@host:5432/name, with letters like @ and / in it escaped (%40, %2F).',
  );
}
