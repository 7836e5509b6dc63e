import { access } from 'node:fs/promises';
import { join } from 'node:path';
import { dataFolder } from './data-folder.ts';
import { DATABASE_FILE } from './open-database.ts';

/** Whether a log is kept here, without making one. */
export async function hasLog(folder = dataFolder()): Promise<boolean> {
  return access(join(folder, DATABASE_FILE)).then(
    () => true,
    () => false,
  );
}
