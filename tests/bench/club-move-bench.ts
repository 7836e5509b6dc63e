import { spawn } from 'node:child_process';
import { createHash, randomUUID } from 'node:crypto';
import { statSync } from 'node:fs';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { Log } from '../../server/log/log.ts';
import { sha256 } from '../../server/log/photo-store.ts';
import { startPostgres } from '../server/postgres/start-postgres.ts';
import { clubLog } from './club-log.ts';
import { family, peakOf } from './process-family.ts';
import { tableSizes } from './table-sizes.ts';

const ENDWISE = fileURLToPath(new URL('../../server/cli/endwise.mjs', import.meta.url));

export interface ClubMoveOptions {
  /** @default 100_000 */
  readonly ends?: number;
  /** @default 20_000 */
  readonly photos?: number;
}

/**
 * A club's log from SQLite to PostgreSQL and back by the command line, with the first import killed on
 * its way: seconds, memory at its highest, and whether both logs are equal.
 */
export async function clubMoveBench({ ends = 100_000, photos = 20_000 }: ClubMoveOptions) {
  const folder = await mkdtemp(join(tmpdir(), 'endwise-club-'));
  const postgres = await startPostgres({ durable: true });
  try {
    const first = join(folder, 'first');
    const made = performance.now();
    await makeLog(first, ends, photos);
    console.log(`made ${ends} ends, ${photos} photos: ${seconds(made)}`);
    const database = await postgres.newDatabase();
    const [there, back] = [join(folder, 'there.zip'), join(folder, 'back.zip')];
    const again = join(folder, 'again');
    await measured('export from SQLite', ['export', there], first);
    console.log(`  ${(statSync(there).size / 1e6).toFixed(0)} MB`);
    await measured('import into PostgreSQL, killed', ['import', there], database, { killAt: photos / 2 }); // prettier-ignore
    await measured('import into PostgreSQL, again', ['import', there], database);
    await tableSizes(database, ends, photos);
    await measured('export from PostgreSQL', ['export', back], database);
    await measured('import into SQLite', ['import', back], again);
    // One after the other: reading a whole SQLite log holds up everything else.
    const [one, two, three] = [await hashOf(first), await hashOf(database), await hashOf(again)];
    console.log(one === two && two === three ? 'all three logs are equal' : 'NOT EQUAL');
    if (one !== two || two !== three) process.exitCode = 1;
  } finally {
    await postgres.stop();
    await rm(folder, { recursive: true, force: true });
  }
}

/** Its photos are put beside it as the log itself would, but without waiting for the disk at each. */
async function makeLog(address: string, ends: number, photos: number): Promise<void> {
  const log = await Log.open(address);
  const whole = clubLog(ends);
  const every = Math.floor(ends / photos);
  const withPhotos = [];
  for (const [number, end] of whole.ends.entries()) {
    if (number % every !== 0 || number >= every * photos) {
      withPhotos.push(end);
      continue;
    }
    const bytes = await photo(number);
    const place = { file: `${randomUUID()}.jpg`, sha256: sha256(bytes) };
    await writeFile(join(address, 'photos', place.file), bytes);
    withPhotos.push({ ...end, photo: place, sourceSha256: place.sha256 });
  }
  await log.fill({ ...whole, ends: withPhotos }, []);
  await log.close();
}

/** No two alike. */
function photo(number: number): Promise<Buffer> {
  const noise = { type: 'gaussian' as const, mean: 60 + (number % 120), sigma: 20 };
  return sharp({ create: { width: 48, height: 36, channels: 3, background: 'black', noise } })
    .jpeg()
    .toBuffer();
}

async function hashOf(address: string): Promise<string> {
  const log = await Log.open(address);
  const hash = createHash('sha256');
  const whole = await log.everything();
  hash.update(JSON.stringify([whole.archers, whole.bows, whole.setUps, whole.sessions]));
  for (const end of whole.ends) {
    hash.update(JSON.stringify(end));
    if (end.photo) hash.update(await log.photos.readSound(end.photo));
  }
  await log.close();
  return hash.digest('hex');
}

interface MeasuredOptions {
  /** Ends it with all that it started once so many photos are stored. */
  readonly killAt?: number;
}

async function measured(
  what: string,
  args: string[],
  address: string,
  { killAt }: MeasuredOptions = {},
): Promise<void> {
  const isFolder = !address.startsWith('postgres:');
  const env = { ...process.env, ...(isFolder ? { ENDWISE_DATA: address } : { ENDWISE_DATABASE: address }) }; // prettier-ignore
  const start = performance.now();
  const child = spawn(process.execPath, [ENDWISE, ...args], {
    env,
    stdio: ['ignore', 'ignore', 'inherit'],
    detached: true,
  });
  const peaks = new Map<number, number>();
  let stored = 0;
  const watch = setInterval(() => {
    for (const pid of family(child.pid!))
      peaks.set(pid, Math.max(peaks.get(pid) ?? 0, peakOf(pid)));
  }, 250);
  const kill =
    killAt === undefined
      ? undefined
      : setInterval(() => {
          void countPhotos(address).then((count) => {
            if (count < killAt || stored > 0) return;
            stored = count;
            process.kill(-child.pid!, 'SIGKILL');
          });
        }, 500);
  const status = await new Promise<number | null>((resolve) => child.once('exit', resolve));
  clearInterval(watch);
  clearInterval(kill);
  const mb = [...peaks.values()].map((bytes) => (bytes / 1e6).toFixed(0)).join(' + ');
  const end = killAt === undefined ? `status ${status}` : `killed at ${stored} photos`;
  console.log(`${what.padEnd(32)} ${seconds(start)}, at most ${mb} MB, ${end}`);
}

async function countPhotos(address: string): Promise<number> {
  const { Client } = await import('pg');
  const client = new Client({ connectionString: address });
  await client.connect();
  const { rows } = await client
    .query<{ n: number }>('SELECT count(*)::int AS n FROM photos')
    .catch(() => ({ rows: [{ n: 0 }] }))
    .finally(() => client.end());
  return rows[0]!.n;
}

const seconds = (since: number) => `${((performance.now() - since) / 1000).toFixed(1)} s`;
