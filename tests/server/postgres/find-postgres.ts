import { existsSync, readdirSync } from 'node:fs';
import { delimiter, join } from 'node:path';

/** Debian keeps what a server needs out of the search path, one folder for each version. */
const DEBIAN = '/usr/lib/postgresql';

/**
 * The folder of PostgreSQL's programs: the one that ENDWISE_POSTGRES names, else the newest that is
 * installed; null where there is none.
 * @throws Error where ENDWISE_POSTGRES names a folder without them
 */
export function findPostgres(env: NodeJS.ProcessEnv = process.env): string | null {
  const named = env['ENDWISE_POSTGRES'];
  if (named) {
    if (!holdsServer(named)) {
      throw new Error(`ENDWISE_POSTGRES names ${named}, where there is no initdb or pg_ctl.`);
    }
    return named;
  }
  const versions = existsSync(DEBIAN) ? readdirSync(DEBIAN) : [];
  const folders = [
    ...versions
      .sort((a, b) => Number(b) - Number(a))
      .map((version) => join(DEBIAN, version, 'bin')),
    ...(env['PATH'] ?? '').split(delimiter).filter((folder) => folder !== ''),
  ];
  return folders.find(holdsServer) ?? null;
}

function holdsServer(folder: string): boolean {
  return ['initdb', 'pg_ctl', 'postgres'].every((name) => existsSync(join(folder, name)));
}
