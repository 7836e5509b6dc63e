import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export interface FullDisksReport {
  readonly moments: number;
  /** What was under way when the disk was full, and how often it was refused. */
  readonly refused: Readonly<Record<string, number>>;
  readonly kept: number;
  readonly findings: readonly string[];
}

/** Small, so that it is full soon; seen by one process alone. */
const DISK_BYTES = 4_000_000;

/** Fills a disk at random moments while things are kept. @returns null where none can be mounted */
export function fillDisks(moments: number, seed: number): FullDisksReport | null {
  const disk = mkdtempSync(join(tmpdir(), 'endwise-disk-'));
  const script = new URL('./fill-one-disk.ts', import.meta.url).pathname;
  const mount = `mount -t tmpfs -o size=${DISK_BYTES} tmpfs "$0" && exec "$@"`;
  const onDisk = (...command: string[]) =>
    spawnSync('unshare', ['-rm', 'sh', '-c', mount, disk, ...command], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'inherit'],
    });
  try {
    if (onDisk('true').status !== 0) return null;
    const node = [process.execPath, '--import', import.meta.resolve('tsx'), script, disk];
    const ran = onDisk(...node, String(moments), String(seed));
    if (ran.status !== 0) {
      const findings = [`the process ended with status ${ran.status}`];
      return { moments, refused: {}, kept: 0, findings };
    }
    return JSON.parse(ran.stdout) as FullDisksReport;
  } finally {
    rmSync(disk, { recursive: true, force: true });
  }
}
