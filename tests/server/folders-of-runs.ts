import { readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** What the paths of this process's temporary folders begin with, for `mkdtemp`. */
export function folderPrefix(): string {
  return join(tmpdir(), `endwise-test-${process.pid}-`);
}

/** Removes what runs left in the temporary folder that were killed before they could. */
export function removeLeftBehind(): void {
  for (const name of readdirSync(tmpdir())) {
    const pid = Number(/^endwise-test-(\d+)-/.exec(name)?.[1] ?? 0);
    if (pid === 0 || !isGone(pid)) continue;
    // A PostgreSQL that still runs there ends by itself once its files are gone.
    rmSync(join(tmpdir(), name), { recursive: true, force: true });
  }
}

function isGone(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return false;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'ESRCH';
  }
}
