import { randomUUID } from 'node:crypto';
import { setTimeout as wait } from 'node:timers/promises';
import { Client } from 'pg';
import { random as seeded } from '../groups/random.ts';
import { startPostgres, type Postgres } from '../server/postgres/start-postgres.ts';
import { fetched, photoOf, upload } from './club-uploads.ts';
import { ENDWISE, Kept } from './kept-process.ts';
import { family, peakOf } from './process-family.ts';

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
}

/**
 * Two servers and two workers as processes of their own, over a PostgreSQL of its own: uploads over time while processes are killed: what was confirmed must be read, once.
 */
export async function clubBench(options: ClubBenchOptions = {}): Promise<void> {
  const { uploads = 60, seconds = 120, kills = 12, seed = 1, megapixels } = options;
  const photo = await photoOf(megapixels);
  const postgres = await startPostgres({ durable: true });
  const env = { ...process.env, ENDWISE_DATABASE: postgres.url, ENDWISE_LOG: 'silent' };
  const start = (...args: string[]) => new Kept([ENDWISE, ...args], env);
  const servers = [start('serve', '--port', '4370'), start('serve', '--port', '4390')];
  const workers = [0, 1].map(() => start('worker', '--at-once', '1'));
  try {
    const urls = await Promise.all(servers.map((one) => one.line(/http:\/\/\S+/)));
    const all = { urls, photo, servers, workers, postgres };
    const peaks = watchMemory({ servers, workers });
    await underKills({ ...all, uploads, seconds, kills, seed });
    peaks.say();
  } finally {
    for (const one of [...servers, ...workers]) one.end();
    await postgres.stop();
  }
}

interface Club {
  readonly urls: readonly string[];
  readonly photo: string;
  readonly servers: readonly Kept[];
  readonly workers: readonly Kept[];
  readonly postgres: Postgres;
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
  const killed = { workers: 0, servers: 0, PostgreSQL: 0 };
  const killing = (async () => {
    // The first third is without kills, for the times of pages.
    await wait((seconds * 1000) / 3);
    isCalm = false;
    for (let kill = 0; kill < kills; kill++) {
      await wait(((seconds * 1000) / kills) * (2 / 3) * (0.5 + random()));
      if (kill % 3 === 2) {
        await postgres.kill();
        killed.PostgreSQL++;
        await wait(DOWN_MS * random());
        await postgres.start();
      } else {
        const sort = kill % 3 === 0 ? 'workers' : 'servers';
        // One that is about to be started again cannot be killed.
        if ({ workers, servers }[sort][Math.floor(random() * 2)]!.kill()) killed[sort]++;
      }
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
  console.log(`\n${uploads} uploads over ${seconds} s, killed meanwhile:`);
  console.table({ kills: killed });
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

function p95(times: readonly number[]): string {
  const sorted = [...times].sort((a, b) => a - b);
  return sorted.length === 0 ? '-' : sorted[Math.floor(sorted.length * 0.95)]!.toFixed(0);
}
