import { randomUUID } from 'node:crypto';
import { mkdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { passesInTime } from '../log/explain-postgres.ts';
import { whenAborted } from '../processes/told-to-end.ts';
import { explainFailure } from '../reading/explain-failure.ts';
import type { Outcome } from '../reading/read-job.ts';
import { WORKER_DIED, type ReadingPool } from '../reading/reading-pool.ts';
import type { News, QueueNews } from './queue-news.ts';
import type { QueueStore, Taken } from './queue-store.ts';
import { whileAway } from './while-away.ts';

/** What became of a job at this worker. */
export type Ended =
  | { readonly what: 'read'; readonly outcome: Outcome; readonly waitedSeconds: number }
  /** It brought its process down: another takes it, or it was set aside. */
  | { readonly what: 'again' | 'aside' }
  /** Cancelled, or given to another because this worker was silent for too long. */
  | { readonly what: 'not-ours' }
  /** Given back, as this worker ends or, with why, cannot do it. */
  | { readonly what: 'given-back'; readonly why?: unknown };

export interface QueueWorkerOptions {
  readonly pool: Pick<ReadingPool, 'read' | 'workers'>;
  /** For photos while they are read. */
  readonly folder: string;
  /** When it is told to end, what is being read gets so long. @default 8000 */
  readonly lastReadingsMs?: number;
  readonly onEnded?: (ended: Ended) => void;
  /** Called when the database goes away, with why, and with null when it is there again. */
  readonly onAway?: (error: unknown) => void;
}

/** A result is worth waiting for the database: it would all have to be done again. */
const PATIENT = { patienceMs: 5 * 60_000, passes: passesInTime };

/** Before a job that could not be fetched, or not be handed back, is given to others, ms. */
const TROUBLE_MS = 5_000;

/** Less than what usually follows when a process does not end that was told to, ms. */
const LAST_READINGS_MS = 8_000;

/** Takes jobs from the queue, as many at once as its pool has processes, until it is told to end. */
export class QueueWorker {
  readonly #store: QueueStore;
  readonly #news: Pick<QueueNews, 'listen'>;
  readonly #options: QueueWorkerOptions;
  readonly #held = new Map<string, { readonly taken: Taken; readonly stop: AbortController }>();
  readonly #readings = new Set<Promise<void>>();
  /** Until their results are kept: meanwhile the next photos are read already. */
  readonly #jobs = new Set<Promise<void>>();
  #isAway = false;
  #onWaiting: () => void = () => undefined;

  constructor(store: QueueStore, news: Pick<QueueNews, 'listen'>, options: QueueWorkerOptions) {
    this.#store = store;
    this.#news = news;
    this.#options = options;
  }

  /** @param ending when aborted it takes no more jobs; resolves when it holds none */
  async run(ending: AbortSignal): Promise<void> {
    const renewing = setInterval(
      () => void this.#renew().catch(() => undefined),
      this.#store.leaseSeconds * 300,
    );
    const endNews = this.#news.listen((one) => this.#heard(one));
    const told = whenAborted(ending);
    try {
      while (!ending.aborted) await this.#takeNext(told);
      await this.#finish();
    } finally {
      clearInterval(renewing);
      endNews();
    }
  }

  #heard(news: News | null): void {
    if (news === null || news.what === 'waiting') this.#onWaiting();
    if (news?.what !== 'gone') return;
    for (const { taken, stop } of this.#held.values()) if (taken.id === news.id) stop.abort(GONE);
  }

  async #takeNext(told: Promise<void>): Promise<void> {
    if (this.#readings.size >= this.#options.pool.workers) {
      await Promise.race([...this.#readings, told]);
      return;
    }
    if (this.#jobs.size >= 2 * this.#options.pool.workers) {
      // While the database is away nothing is read ahead.
      await Promise.race([...this.#jobs, told]);
      return;
    }
    // From before it is asked for: what comes meanwhile would be told to nobody.
    const waiting = new Promise<void>((resolve) => (this.#onWaiting = resolve));
    const taken = await this.#take();
    if (taken === null) {
      await Promise.race([waiting, told]);
      return;
    }
    if (taken.deaths === 0) {
      this.#begin(taken);
      return;
    }
    // What a worker died of is read alone, so that it takes nobody else's reading with it.
    await Promise.all(this.#readings);
    this.#begin(taken);
    await Promise.race([...this.#readings, told]);
  }

  async #take(): Promise<Taken | null> {
    try {
      const taken = await this.#store.take();
      if (this.#isAway) this.#options.onAway?.(null);
      this.#isAway = false;
      return taken;
    } catch (error) {
      if (!this.#isAway) this.#options.onAway?.(error);
      this.#isAway = true;
      return null;
    }
  }

  #begin(taken: Taken): void {
    const stop = new AbortController();
    this.#held.set(taken.token, { taken, stop });
    const outcome = this.#read(taken, stop.signal);
    const reading = outcome
      .then(
        () => undefined,
        () => undefined,
      )
      .finally(() => this.#readings.delete(reading));
    this.#readings.add(reading);
    const job = outcome
      .then((found) => this.#hand(taken, found, stop.signal))
      .catch((error: unknown) => this.#leave(taken, stop.signal, error))
      .then((ended) => {
        this.#held.delete(taken.token);
        this.#jobs.delete(job);
        this.#options.onEnded?.(ended);
      });
    this.#jobs.add(job);
  }

  /** What was stopped, or is in trouble that is not the photo's. */
  async #leave(taken: Taken, signal: AbortSignal, why: unknown): Promise<Ended> {
    // It is not taken again at once, by this worker above all.
    if (!signal.aborted) await wait(TROUBLE_MS, undefined, { signal }).catch(() => undefined);
    if (signal.aborted) return { what: signal.reason === ENDS ? 'given-back' : 'not-ours' };
    // Where that fails, too, the lease runs out.
    const isBack = await this.#store.giveBack(taken).catch(() => false);
    return isBack ? { what: 'given-back', why } : { what: 'not-ours' };
  }

  /** Null where the job was dropped. Rejects where it is stopped, or its photos cannot be fetched. */
  async #read(taken: Taken, signal: AbortSignal): Promise<Outcome | null> {
    const folder = join(this.#options.folder, randomUUID());
    await mkdir(folder, { mode: 0o700 });
    try {
      const job = await whileAway(() => this.#jobOf(taken, folder), { ...PATIENT, signal });
      if (job === null) return null;
      return await this.#options.pool.read(job, { signal }).catch((error: unknown): Outcome => {
        signal.throwIfAborted();
        return { ok: false, elapsedMs: 0, error: explainFailure(error) };
      });
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  }

  /** Tried again, it begins anew. */
  async #jobOf(taken: Taken, folder: string) {
    const own = join(folder, randomUUID());
    await mkdir(own, { mode: 0o700 });
    return this.#store.jobOf(taken, own);
  }

  #hand(taken: Taken, outcome: Outcome | null, signal: AbortSignal): Promise<Ended> {
    return whileAway(() => this.#handOnce(taken, outcome), { ...PATIENT, signal });
  }

  async #handOnce(taken: Taken, outcome: Outcome | null): Promise<Ended> {
    if (outcome === null) return { what: 'not-ours' };
    if (!outcome.ok && outcome.error.code === WORKER_DIED) {
      const what = await this.#store.lose(taken);
      return { what: what ?? 'not-ours' };
    }
    const kept = await this.#store.keep(taken, outcome);
    return kept
      ? { what: 'read', outcome, waitedSeconds: taken.waitedSeconds }
      : { what: 'not-ours' };
  }

  async #renew(): Promise<void> {
    const asked = [...this.#held.keys()];
    const hold = await this.#store.renew(asked);
    for (const token of asked) {
      if (!hold.has(token)) this.#held.get(token)?.stop.abort(GONE);
    }
  }

  /** What is not read in time goes back into the queue, for other workers. */
  async #finish(): Promise<void> {
    const { lastReadingsMs = LAST_READINGS_MS } = this.#options;
    await Promise.race([Promise.all(this.#jobs), wait(lastReadingsMs, null, { ref: false })]);
    const left = [...this.#held.values()];
    await Promise.all(
      left.map(async ({ taken, stop }) => {
        // Where that fails, the lease runs out.
        await this.#store.giveBack(taken).catch(() => false);
        stop.abort(ENDS);
      }),
    );
    await Promise.all(this.#jobs);
  }
}

/** Why a reading was stopped. */
const ENDS = new Error('The worker ends.');
const GONE = new Error('The job is not ours.');
