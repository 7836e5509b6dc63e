import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { quantile } from '../measure/quantile.ts';
import { postmasterOf, startPostgres } from '../server/postgres/start-postgres.ts';
import { fetched, photoOf, upload } from './club-uploads.ts';
import { ENDWISE, Kept } from './kept-process.ts';
import { commandOf, cpuSeconds, family, ownCpuSeconds } from './process-family.ts';

export interface ClubQueueBenchOptions {
  /** Photos that each way reads once it is warm. @default 72 */
  readonly photos?: number;
  /** Of the photo that is sent. @default that of the photo as it is */
  readonly megapixels?: number | undefined;
}

/** The two ways take turns, so that whatever else the machine does meets both. */
const OF_A_TURN = 12;

/** A process that reads compiles its code as it goes: its first readings take up to six times as long. */
const WARM_SECONDS = 8;

/** A turn's photos are all read by then, ms. */
const PATIENCE_MS = 10 * 60_000;

const READERS = 2;

/** What is sent to, and the processes that do what is needed for it. */
interface Way {
  readonly urls: readonly string[];
  /** By what they are for. */
  readonly parts: Readonly<Record<string, readonly number[]>>;
  /** Those whose children read. */
  readonly parents: readonly number[];
}

type Spent = Readonly<Record<string, number>>;

/**
 * What the queue costs: the same photos sent to a server with a log of its own and two processes that
 * read, and to two servers with a PostgreSQL and two workers. CPU time of each part, which does not
 * depend on what else the machine does; of a process's beginning, apart; and of the queue at rest.
 */
export async function clubQueueBench(options: ClubQueueBenchOptions = {}): Promise<void> {
  const photo = await photoOf(options.megapixels);
  const data = mkdtempSync(join(tmpdir(), 'endwise-alone-'));
  const postgres = await startPostgres({ durable: true });
  const env = { ...process.env, ENDWISE_LOG: 'silent', ENDWISE_DATA: data };
  const kept: Kept[] = [];
  const start = (address: string | null, ...args: string[]) => {
    const added = address === null ? {} : { ENDWISE_DATABASE: address };
    kept.push(new Kept([ENDWISE, ...args], { ...env, ...added }));
    return kept.at(-1)!;
  };
  try {
    const alone = start(null, 'serve', '--port', '4350', '--workers', String(READERS));
    const servers = [4310, 4330].map((port) =>
      start(postgres.url, 'serve', '--port', String(port)),
    );
    const workers = Array.from({ length: READERS }, () =>
      start(postgres.url, 'worker', '--at-once', '1'),
    );
    const urls = await Promise.all([alone, ...servers].map((one) => one.line(/http:\/\/\S+/)));
    const pids = (some: readonly Kept[]) => some.map(({ pid }) => pid);
    const ways: Record<string, Way> = {
      pool: { urls: [urls[0]!], parts: { servers: pids([alone]) }, parents: pids([alone]) },
      queue: {
        urls: urls.slice(1),
        parts: {
          servers: pids(servers),
          workers: pids(workers),
          PostgreSQL: [await postmasterOf(postgres)],
        },
        parents: pids(workers),
      },
    };
    for (const [name, way] of Object.entries(ways)) await warmUp(name, way, photo);
    await restOf(ways['queue']!);
    const spent: Record<string, Spent[]> = { pool: [], queue: [] };
    for (let turn = 0; turn < (options.photos ?? 72) / OF_A_TURN; turn++) {
      for (const [name, way] of Object.entries(ways)) spent[name]!.push(await turnOf(way, photo));
    }
    sayCosts(spent['pool']!, spent['queue']!);
  } finally {
    for (const one of kept) one.end();
    await postgres.stop();
    rmSync(data, { recursive: true, force: true });
  }
}

/** Sends photos until every process that reads has read enough for its code to be compiled. */
async function warmUp(name: string, way: Way, photo: string): Promise<void> {
  const ofMains = spentBy(way);
  let first: number | null = null;
  for (;;) {
    await readAll(way, photo, 2 * READERS);
    const used = readersOf(way).map((pid) => ownCpuSeconds(pid));
    first ??= used.reduce((sum, one) => sum + one, 0) / (2 * READERS);
    if (used.length === READERS && used.every((one) => one > WARM_SECONDS)) break;
  }
  console.log(
    `${name}, cold: ${ms(first)} of CPU for each of the first ${2 * READERS} readings, their loading included; ` +
      `before them ${Object.entries(ofMains)
        .filter(([part]) => part !== 'reading')
        .map(([part, seconds]) => `${part} ${ms(seconds)}`)
        .join(', ')}`,
  );
}

async function restOf(way: Way): Promise<void> {
  const SECONDS = 20;
  const before = spentBy(way);
  await wait(SECONDS * 1000);
  const after = spentBy(way);
  const shares = Object.keys(after).map(
    (part) => `${part} ${((100 * (after[part]! - before[part]!)) / SECONDS).toFixed(2)} %`,
  );
  console.log(`the queue at rest, of one core: ${shares.join(', ')}`);
}

/** CPU time for each photo, s. */
async function turnOf(way: Way, photo: string): Promise<Spent> {
  const readers = readersOf(way).join();
  const before = spentBy(way);
  await readAll(way, photo, OF_A_TURN);
  const after = spentBy(way);
  if (readersOf(way).join() !== readers) console.log('a process that reads was replaced meanwhile');
  return Object.fromEntries(
    Object.keys(after).map((part) => [part, (after[part]! - before[part]!) / OF_A_TURN]),
  );
}

async function readAll({ urls }: Way, photo: string, count: number): Promise<void> {
  const codes = await Promise.all(
    Array.from({ length: count }, async () => {
      const { id } = await upload(urls, randomUUID(), photo);
      return fetched(urls, id!, Date.now() + PATIENCE_MS);
    }),
  );
  if (codes.some((code) => code !== 'read')) throw new Error(`Not all was read: ${codes.join()}`);
}

/** A process of endwise has others beside them, as that which builds its bundle. */
function readersOf({ parents }: Way): number[] {
  return parents.flatMap(family).filter((pid) => commandOf(pid).includes('reading-worker'));
}

function spentBy(way: Way): Record<string, number> {
  const readers = readersOf(way);
  const reading = readers.reduce((sum, pid) => sum + ownCpuSeconds(pid), 0);
  const others = Object.entries(way.parts).map(([part, pids]) => {
    const own = part === 'PostgreSQL' ? cpuSeconds(pids) : sumOf(pids.map(ownCpuSeconds));
    return [part, own] as const;
  });
  return { reading, ...Object.fromEntries(others) };
}

function sayCosts(pool: readonly Spent[], queue: readonly Spent[]): void {
  const rows: Record<string, Record<string, string>> = {};
  for (const part of ['reading', 'servers', 'workers', 'PostgreSQL']) {
    const of = (turns: readonly Spent[]) => ms(median(turns.map((turn) => turn[part] ?? 0)));
    rows[part] = { pool: of(pool), queue: of(queue) };
  }
  const whole = (turn: Spent) => sumOf(Object.values(turn));
  rows['all'] = { pool: ms(median(pool.map(whole))), queue: ms(median(queue.map(whole))) };
  console.log(`CPU time for each photo, medians of ${pool.length} turns of ${OF_A_TURN}`);
  console.table(rows);
  const beside = (turn: Spent) => whole(turn) - turn['reading']!;
  const reading = median([...pool, ...queue].map((turn) => turn['reading']!));
  const own = median(queue.map((turn, i) => beside(turn) - beside(pool[i]!)));
  const percent = (share: number) => `${(100 * share).toFixed(1)} %`;
  const all = median(queue.map((turn, i) => whole(turn) / whole(pool[i]!) - 1));
  console.log(
    `the queue's own, beside what the server needs without it: ${ms(own)}, ${percent(own / reading)} of a reading`,
  );
  console.log(`all that is done with the queue over all without it: ${percent(all)}`);
}

function sumOf(numbers: readonly number[]): number {
  return numbers.reduce((sum, one) => sum + one, 0);
}

function ms(seconds: number): string {
  return `${(seconds * 1000).toFixed(0)} ms`;
}

function median(numbers: readonly number[]): number {
  return quantile(numbers, 0.5);
}
