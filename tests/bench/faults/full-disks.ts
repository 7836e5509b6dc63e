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
  const node = [process.execPath, '--import', import.meta.resolve('tsx'), script, disk];
  const ran = spawnSync(
    'unshare',
    ['-rm', 'sh', '-c', mount, disk, ...node, String(moments), String(seed)],
    { encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit'] },
  );
  rmSync(disk, { recursive: true, force: true });
  if (ran.error !== undefined || ran.stdout === '') return null;
  return JSON.parse(ran.stdout) as FullDisksReport;
}
