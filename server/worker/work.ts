import { pino } from 'pino';
import { explainPostgres } from '../log/explain-postgres.ts';
import { explainStorage } from '../log/explain-storage.ts';
import { LogError } from '../log/log-error.ts';
import { ownTemporaryFolder, removeLeftovers } from '../files/temporary-folders.ts';
import { toldToEnd } from '../processes/told-to-end.ts';
import { openQueue } from '../queue/open-queue.ts';
import { QueueWorker, type Ended } from '../queue/queue-worker.ts';
import { Sweeper } from '../queue/sweeper.ts';
import { ReadingPool } from '../reading/reading-pool.ts';
import { checkInTime } from '../watch/check-in-time.ts';
import { createMetrics, type Metrics } from '../watch/metrics.ts';
import { watchWhereAsked, type WatchAddress } from '../watch/watch-server.ts';

export interface WorkOptions {
  /** Of the database, postgres://... */
  readonly address: string;
  /** Photos read at once. @default the number of cores */
  readonly workers?: number | undefined;
  /** Where /health, /ready and /metrics are answered. @default nowhere */
  readonly watch?: WatchAddress | undefined;
  /** How long it may be silent, s. @default 10 */
  readonly leaseSeconds?: number | undefined;
  /** The module that reads. @default reading-worker.ts */
  readonly reader?: URL | undefined;
}

/** A worker asks one question at a time, and its readings one each at their ends. */
const CONNECTIONS_BESIDE_READINGS = 2;

/** Reads photos of the queue until the process is told to end. */
export async function work(options: WorkOptions): Promise<void> {
  const logger = pino({ level: process.env['ENDWISE_LOG'] ?? 'info' });
  const pool = new ReadingPool({
    ...(options.workers === undefined ? {} : { workers: options.workers }),
    ...(options.reader === undefined ? {} : { worker: options.reader }),
  });
  let metrics: Metrics | undefined;
  const { store, news, close } = await openQueue(options.address, {
    most: pool.workers + CONNECTIONS_BESIDE_READINGS,
    leaseSeconds: options.leaseSeconds,
    onAsked: (seconds) => metrics?.asked(seconds),
  });
  await removeLeftovers();
  const photos = await ownTemporaryFolder('worker');
  if (options.watch !== undefined) metrics = await createMetrics(() => store.figures());
  const watching = await watchWhereAsked(options.watch, metrics, () =>
    checkInTime(() => store.check()),
  );
  const sweeper = new Sweeper(store, (then) => {
    metrics?.lost(then);
    logger.warn({ then }, 'a worker was silent for too long');
  });
  const worker = new QueueWorker(store, news, {
    pool,
    folder: photos.path,
    onEnded: (ended) => {
      if (ended.what === 'read') metrics?.read(ended.outcome, ended.waitedSeconds);
      if (ended.what === 'again' || ended.what === 'aside') metrics?.lost(ended.what);
      logger.info(lineOf(ended));
    },
    onAway: (away) => {
      if (away) logger.warn({ why: sentenceOf(away) }, 'the database is away');
      else logger.info('the database is there again');
    },
  });
  const told = toldToEnd();
  sweeper.start();
  console.log(`endwise reads what is in the queue, ${pool.workers} at once.`);
  if (watching) console.log(`How it does is told at ${watching.url}metrics`);
  await worker.run(told);
  await sweeper.stop();
  await watching?.close();
  await pool.close();
  await photos.remove();
  await close();
}

/** Of a job, without anything that is somebody's. */
function lineOf(ended: Ended): Record<string, unknown> {
  if (ended.what === 'given-back' && ended.why !== undefined) {
    return { job: ended.what, why: sentenceOf(ended.why) };
  }
  if (ended.what !== 'read') return { job: ended.what };
  const { outcome, waitedSeconds } = ended;
  return {
    job: 'read',
    code: outcome.ok ? 'read' : outcome.error.code,
    ms: outcome.elapsedMs,
    waitedMs: Math.round(waitedSeconds * 1000),
  };
}

/** Why the database, or this machine's disk, did not do what was asked; codes of what is not foreseen. */
function sentenceOf(error: unknown): string {
  const explained = explainStorage(explainPostgres(error));
  if (explained instanceof LogError) return explained.message;
  const { code, name } = error as { code?: unknown; name?: unknown };
  return String(code ?? name);
}
