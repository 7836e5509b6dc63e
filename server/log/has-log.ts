import { access } from 'node:fs/promises';
import { join } from 'node:path';
import { isPostgresAddress, logAddress } from './log-address.ts';
import { DATABASE_FILE } from './open-database.ts';

/** Whether a log is kept here, or a database was named, without making one. */
export async function hasLog(said?: string): Promise<boolean> {
  const address = logAddress(said);
  if (isPostgresAddress(address)) return true;
  return access(join(address, DATABASE_FILE)).then(
    () => true,
    () => false,
  );
}
