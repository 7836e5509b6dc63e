import { lstat, mkdtemp, readdir, rm } from 'node:fs/promises';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';

export interface TemporaryFolder {
  readonly path: string;
  readonly remove: () => Promise<void>;
}

/** Of which machine, since containers may share the folder, and of which process. */
const OURS = /^endwise-(?:uploads|evening|photos|worker)-(.+)-(\d+)-[A-Za-z0-9]{6}$/;
const machine = () => hostname().replace(/[^A-Za-z0-9]/g, '');

/** A private folder that goes with this process, or at the next start where it was killed. */
export async function ownTemporaryFolder(
  what: 'uploads' | 'evening' | 'photos' | 'worker',
): Promise<TemporaryFolder> {
  const path = await mkdtemp(join(tmpdir(), `endwise-${what}-${machine()}-${process.pid}-`));
  return { path, remove: () => rm(path, { recursive: true, force: true }) };
}

/** Removes the folders of processes that are gone: photos of people lie in them. */
export async function removeLeftovers(): Promise<void> {
  for (const name of await readdir(tmpdir())) {
    const [, host, pid] = OURS.exec(name) ?? [];
    if (host !== machine() || isAlive(Number(pid))) continue;
    const path = join(tmpdir(), name);
    const stats = await lstat(path).catch(() => null);
    const mine = process.getuid === undefined || stats?.uid === process.getuid();
    // What cannot be removed now is tried again at the next start.
    if (stats?.isDirectory() && mine) await rm(path, { recursive: true, force: true }).catch(() => undefined); // prettier-ignore
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // Another user's process is alive, too.
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
