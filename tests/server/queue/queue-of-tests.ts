import { mkdtempSync, rmSync } from 'node:fs';
import { onTestFinished } from 'vitest';
import {
  openQueue,
  type OpenQueue,
  type OpenQueueOptions,
} from '../../../server/queue/open-queue.ts';
import { QueueReadings } from '../../../server/queue/queue-readings.ts';
import { QueueWorker, type Ended } from '../../../server/queue/queue-worker.ts';
import { Sweeper } from '../../../server/queue/sweeper.ts';
import { readFileSync } from 'node:fs';
import type { Outcome } from '../../../server/reading/read-job.ts';
import { readingJobSchema, type ReadingJob } from '../../../server/reading/reading-job.ts';
import { WORKER_DIED, type PoolReadOptions } from '../../../server/reading/reading-pool.ts';
import { URGENCY, type Submission } from '../../../server/reading/readings.ts';
import { databaseOfTests } from '../postgres/postgres-of-tests.ts';
import { folderPrefix } from '../folders-of-runs.ts';

/** Seconds of a silent worker in tests. */
const LEASE_SECONDS = 1;

/** A queue in a database of its own, closed after the test. */
export async function queueOfTests(
  options: Partial<OpenQueueOptions> & { url?: string; patienceMs?: number } = {},
) {
  const { url = await databaseOfTests(), patienceMs, ...others } = options;
  const queue = await openQueue(url, { most: 5, leaseSeconds: LEASE_SECONDS, ...others });
  const readings = new QueueReadings(queue.store, queue.news, {
    onClose: queue.close,
    ...(patienceMs === undefined ? {} : { patienceMs }),
  });
  onTestFinished(() => readings.close());
  return { url, store: queue.store, news: queue.news, readings };
}

/** A photo whose words stand for what becomes of it, handed in by whom. */
export function submissionOf(words: string, about: Partial<Submission> = {}): Submission {
  const bytes = new TextEncoder().encode(words);
  return {
    job: readingJobSchema.parse({ photo: { bytes }, request: {} }),
    by: { deviceId: null, archerId: null },
    urgency: URGENCY.asked,
    ...about,
  };
}

/** A worker, its readings a stand-in: the result says what the photo's words were. */
export function workerOfTests(
  { store, news }: Pick<OpenQueue, 'store' | 'news'>,
  { atOnce = 1, read = readWords }: { atOnce?: number; read?: typeof readWords } = {},
) {
  const folder = mkdtempSync(folderPrefix());
  const ended: Ended[] = [];
  const ending = new AbortController();
  const worker = new QueueWorker(store, news, {
    pool: { workers: atOnce, read },
    folder,
    lastReadingsMs: 300,
    onEnded: (one) => ended.push(one),
  });
  const sweeper = new Sweeper(store);
  sweeper.start();
  const done = worker.run(ending.signal);
  const end = async () => {
    ending.abort();
    await done;
    await sweeper.stop();
  };
  onTestFinished(async () => {
    await end();
    rmSync(folder, { recursive: true });
  });
  return { ended, end };
}

export function wordsOf(job: ReadingJob): string {
  return 'path' in job.photo ? readFileSync(job.photo.path, 'utf8') : '';
}

export async function readWords(job: ReadingJob, { signal }: PoolReadOptions = {}) {
  const words = wordsOf(job);
  if (words === 'hang') {
    await new Promise((_resolve, reject) => {
      signal?.addEventListener('abort', () => reject(signal.reason as Error));
    });
  }
  return words === 'crash' ? failure(WORKER_DIED, 'It died.') : failure('no-face', words);
}

export function failure(code: string, message: string): Outcome {
  return { ok: false, elapsedMs: 1, error: { code, message } };
}
