import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Log } from '../../server/log/log.ts';
import { readBow } from '../../server/log/read-bow.ts';
import { startPostgres } from '../server/postgres/start-postgres.ts';
import { clubLog, withLongIds } from './club-log.ts';
import { tableSizes } from './table-sizes.ts';

/** The first of them by a process that has never worked them out. */
const ASKED = 120;

/** How soon the trends of one bow of 500 ends are there, in a club's log of so many. */
export async function clubTrendsBench({ ends = 100_000 }: { readonly ends?: number }) {
  const folder = await mkdtemp(join(tmpdir(), 'endwise-club-'));
  const postgres = await startPostgres();
  try {
    for (const [engine, address] of [
      ['SQLite', join(folder, 'log')],
      ['PostgreSQL', await postgres.newDatabase()],
    ] as const) {
      const log = await Log.open(address);
      const bows = await filled(log, ends);
      const read: number[] = [];
      const all: number[] = [];
      const cpu: number[] = [];
      for (let number = 0; number < ASKED; number++) {
        const start = performance.now();
        const used = process.cpuUsage();
        const bowLog = await log.bowLog(bows[(number * 37) % bows.length]!);
        read.push(performance.now() - start);
        readBow(bowLog);
        all.push(performance.now() - start);
        const { user, system } = process.cpuUsage(used);
        cpu.push((user + system) / 1000);
      }
      console.log(`${engine.padEnd(11)} ${ends} ends: rows ${spanOf(read)}, trends ${spanOf(all)}`);
      console.log(`  this process's CPU time: ${spanOf(cpu)}, the first ${cpu[0]!.toFixed(0)} ms`);
      if (engine === 'PostgreSQL') await tableSizes(address, ends, 0);
      await log.close();
    }
  } finally {
    await postgres.stop();
    await rm(folder, { recursive: true, force: true });
  }
}

/** The bows of a log that was filled with so many ends; nothing else of it is held in memory afterwards. */
async function filled(log: Log, ends: number): Promise<string[]> {
  const whole = withLongIds(clubLog(ends));
  await log.fill(whole, []);
  return whole.bows.map(({ id }) => id);
}

function spanOf(times: number[]): string {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.floor(share * (sorted.length - 1))]!.toFixed(0);
  return `${at(0.5)} ms (95 %: ${at(0.95)} ms)`;
}
