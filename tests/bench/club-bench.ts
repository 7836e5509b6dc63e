import { randomUUID } from 'node:crypto';
import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { Client } from 'pg';
import sharp from 'sharp';
import { ReadingPool } from '../../server/reading/reading-pool.ts';
import { readingJobSchema } from '../../server/reading/reading-job.ts';
import { random as seeded } from '../groups/random.ts';
import { startPostgres, type Postgres } from '../server/postgres/start-postgres.ts';
import { ENDWISE, Kept } from './kept-process.ts';
import { cpuSeconds, family, peakOf } from './process-family.ts';

const PHOTO = fileURLToPath(new URL('../../test-images/fresh-02.jpg', import.meta.url));
const PHOTO_MP = 4.32;

/** How long results are waited for beyond the uploads, ms. */
const PATIENCE_MS = 8 * 60_000;
/** PostgreSQL is started again at most so long after it was killed, ms. */
const DOWN_MS = 1_000;

export interface ClubBenchOptions {
  /** Photos that are uploaded. @default 60 */
  readonly uploads?: number;
  /** Over so long. @default 120 */
  readonly seconds?: number;
  /** Kills meanwhile, a third each of servers, workers and PostgreSQL. @default 12 */
  readonly kills?: number;
  readonly seed?: number;
  /** Of the photo that is sent. @default 4.32 */
  readonly megapixels?: number;
  /** Photos that are read by the pool alone and by the queue; 0 leaves that out. @default 24 */
  readonly alone?: number;
}

/**
 * Two servers and two workers as processes of their own, over a PostgreSQL of its own: the queue's
 * cost over the readings alone; then uploads over time while processes are killed: what was confirmed
 * must be read, once.
 */
export async function clubBench(options: ClubBenchOptions = {}): Promise<void> {
  const { uploads = 60, seconds = 120, kills = 12, seed = 1, alone = 24 } = options;
  const photo = await photoOf(options.megapixels ?? PHOTO_MP);
  const postgres = await startPostgres({ durable: true });
  const env = { ...process.env, ENDWISE_DATABASE: postgres.url, ENDWISE_LOG: 'silent' };
  const start = (...args: string[]) => new Kept([ENDWISE, ...args], env);
  const servers = [start('serve', '--port', '4370'), start('serve', '--port', '4390')];
  const workers: Kept[] = [];
  try {
    const urls = await Promise.all(servers.map((one) => one.line(/http:\/\/\S+/)));
    const startWorkers = () => {
      for (let i = 0; i < 2; i++) workers.push(start('worker', '--at-once', '1'));
    };
    const all = { urls, photo, servers, workers, postgres };
    if (alone > 0) await overhead({ ...all, photos: alone, startWorkers });
    else startWorkers();
    const peaks = watchMemory({ servers, workers });
    await underKills({ ...all, uploads, seconds, kills, seed });
    peaks.say();
  } finally {
    for (const one of [...servers, ...workers]) one.end();
    await postgres.stop();
  }
}

/** In a file of its own, as its path is handed to processes that read. */
async function photoOf(megapixels: number): Promise<string> {
  if (megapixels === PHOTO_MP) return PHOTO;
  const path = join(mkdtempSync(join(tmpdir(), 'endwise-photo-')), 'photo.jpg');
  const { width = 0 } = await sharp(PHOTO).metadata();
  const resized = sharp(PHOTO).resize({
    width: Math.round(width * Math.sqrt(megapixels / PHOTO_MP)),
  });
  await resized.jpeg({ quality: 92 }).toFile(path);
  return path;
}

interface Club {
  readonly urls: readonly string[];
  readonly photo: string;
  readonly servers: readonly Kept[];
  readonly workers: readonly Kept[];
  readonly postgres: Postgres;
}

/**
 * The same photos by the pool of two processes alone, and by the queue with two workers: CPU time for each, which
 * does not depend on what else the machine does. The pool's is that of this process and those it started.
 */
async function overhead({
  urls,
  photo,
  photos,
  servers,
  workers,
  postgres,
  startWorkers,
}: Club & { readonly photos: number; readonly startWorkers: () => void }): Promise<void> {
  const pool = new ReadingPool({ workers: 2 });
  const job = readingJobSchema.parse({ photo: { path: photo }, request: {} });
  await Promise.all([pool.read(job), pool.read(job)]);
  const database = postmasterOf(postgres);
  const ofPool = () => cpuSeconds([process.pid]) - cpuSeconds(servers.map(({ pid }) => pid));
  const before = ofPool();
  await Promise.all(Array.from({ length: photos }, () => pool.read(job)));
  const alone = (ofPool() - before) / photos;
  await pool.close();
  startWorkers();
  // Loaded, as the pool was.
  const sent = () => upload(urls, randomUUID(), photo);
  const read = ({ id }: { id: string | null }) => fetched(urls, id!, Date.now() + PATIENCE_MS);
  await Promise.all(Array.from({ length: 4 }, async () => read(await sent())));
  const parts = { servers, workers, database: [{ pid: database }] };
  const used = () => Object.values(parts).map((some) => cpuSeconds(some.map(({ pid }) => pid)));
  const start = used();
  await Promise.all(Array.from({ length: photos }, async () => read(await sent())));
  const [ofServers, ofWorkers, ofDatabase] = used().map((now, i) => (now - start[i]!) / photos) as [
    number,
    number,
    number,
  ];
  const ms = (s: number) => `${(s * 1000).toFixed(0)} ms`;
  console.log(
    `CPU time for each of ${photos} photos: pool alone ${ms(alone)}; workers ${ms(ofWorkers)}, ` +
      `servers ${ms(ofServers)}, PostgreSQL ${ms(ofDatabase)}`,
  );
  const more = ofWorkers + ofDatabase - alone;
  console.log(`the queue's own: ${ms(more)}, ${((100 * more) / alone).toFixed(1)} % of a reading`);
}

function postmasterOf({ folder }: Postgres): number {
  return Number(readFileSync(join(folder, 'data', 'postmaster.pid'), 'utf8').split('\n', 1)[0]);
}

/** The most that any process of each sort has held. */
function watchMemory(sorts: Readonly<Record<string, readonly Kept[]>>) {
  const peaks: Record<string, number> = {};
  const look = setInterval(() => {
    for (const [sort, some] of Object.entries(sorts)) {
      for (const { pid } of some) {
        for (const [i, one] of family(pid).entries()) {
          const name = i === 0 ? sort : `what ${sort} start`;
          peaks[name] = Math.max(peaks[name] ?? 0, Math.round(peakOf(one) / 1e6));
        }
      }
    }
  }, 1000);
  return {
    say: () => {
      clearInterval(look);
      console.log('at most, MB for one process:', peaks);
    },
  };
}

interface UnderKills extends Club {
  readonly uploads: number;
  readonly seconds: number;
  readonly kills: number;
  readonly seed: number;
}

async function underKills(options: UnderKills): Promise<void> {
  const { urls, photo, uploads, seconds, kills, seed, servers, workers, postgres } = options;
  const random = seeded(seed).uniform;
  const until = Date.now() + seconds * 1000;
  const pages: number[] = [];
  const calm: number[] = [];
  let isCalm = true;
  const killing = (async () => {
    // The first third is without kills, for the times of pages.
    await wait((seconds * 1000) / 3);
    isCalm = false;
    for (let kill = 0; kill < kills; kill++) {
      await wait(((seconds * 1000) / kills) * (2 / 3) * (0.5 + random()));
      if (kill % 3 === 2) {
        await postgres.kill();
        await wait(DOWN_MS * random());
        await postgres.start();
      } else (kill % 3 === 0 ? workers : servers)[Math.floor(random() * 2)]!.kill();
    }
  })();
  const browsing = (async () => {
    for (let turn = 0; Date.now() < until; turn++) {
      const start = performance.now();
      const answer = await fetch(new URL('/api/log/ends', urls[turn % 2])).catch(() => null);
      await answer?.arrayBuffer().catch(() => undefined);
      if (answer?.ok) (isCalm ? calm : pages).push(performance.now() - start);
      await wait(100);
    }
  })();
  const outcomes = await Promise.all(
    Array.from({ length: uploads }, async () => {
      await wait(random() * seconds * 1000);
      const key = `kills-${randomUUID()}`;
      const { id, tries } = await upload(random() < 0.5 ? urls : [...urls].reverse(), key, photo);
      return { id, tries, code: await fetched(urls, id!, until + PATIENCE_MS) };
    }),
  );
  const drained = ((Date.now() - until) / 1000).toFixed(0);
  await Promise.all([killing, browsing]);
  const counts: Record<string, number> = {};
  for (const { code } of outcomes) counts[code] = (counts[code] ?? 0) + 1;
  const ids = new Set(outcomes.map(({ id }) => id));
  const client = new Client({ connectionString: postgres.url });
  await client.connect();
  const { rows } = await client.query<{ state: string; n: number; deaths: number }>(
    'SELECT state, count(*)::int AS n, sum(deaths)::int AS deaths FROM endwise_readings.reading WHERE id = ANY($1) GROUP BY state',
    [[...ids]],
  );
  const all = await client.query<{ n: number }>(
    "SELECT count(*)::int AS n FROM endwise_readings.reading WHERE key LIKE 'kills-%'",
  );
  await client.end();
  console.log(`\n${uploads} uploads over ${seconds} s, ${kills} kills`);
  console.table({ outcomes: counts });
  console.table(rows);
  console.log(
    `confirmed ${ids.size}, in the record ${all.rows[0]!.n} (more: read twice; fewer: lost)`,
  );
  console.log(`the last was read ${drained} s after the uploads' time was over`);
  console.log(`tries of an upload: at most ${Math.max(...outcomes.map(({ tries }) => tries))}`);
  console.log(
    `log's ends asked for: p95 ${p95(calm)} ms without kills, ${p95(pages)} ms with them`,
  );
  if (ids.size !== uploads || all.rows[0]!.n !== uploads || (counts['lost'] ?? 0) > 0) {
    process.exitCode = 1;
  }
}

/** Sends a photo to one server or another until it is confirmed. */
async function upload(urls: readonly string[], key: string, photo: string) {
  for (let tries = 1; ; tries++) {
    const body = new FormData();
    body.append('photo', new Blob([new Uint8Array(readFileSync(photo))]));
    const headers = { prefer: 'respond-async', 'idempotency-key': key };
    const answer = await fetch(new URL('/api/readings', urls[tries % urls.length]), {
      method: 'POST',
      body,
      headers,
    }).catch(() => null);
    if (answer?.status === 202) {
      const said = (await answer.json().catch(() => null)) as { id: string } | null;
      if (said !== null) return { id: said.id, tries };
    }
    if (tries > 200) return { id: null, tries };
    await wait(500);
  }
}

/** What became of a photo: "read", why there is no reading, or "lost". */
async function fetched(urls: readonly string[], id: string, until: number): Promise<string> {
  for (let turn = 0; Date.now() < until; turn++) {
    const address = new URL(`/api/readings/${id}`, urls[turn % urls.length]);
    const answer = await fetch(address, { headers: { prefer: 'wait=10' } }).catch(() => null);
    const body = (await answer?.json().catch(() => null)) as {
      error?: { code: string };
      ok?: true;
    } | null;
    if (answer?.status === 200 && body?.ok) return 'read';
    if (body?.error?.code === 'unknown-reading') return 'lost';
    const isOfDatabase = answer === null || answer.status === 503 || !body?.error;
    if (!isOfDatabase && answer.status !== 202) return body.error!.code;
    await wait(200);
  }
  return 'never';
}

function p95(times: readonly number[]): string {
  const sorted = [...times].sort((a, b) => a - b);
  return sorted.length === 0 ? '-' : sorted[Math.floor(sorted.length * 0.95)]!.toFixed(0);
}
