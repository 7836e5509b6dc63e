import { availableParallelism } from 'node:os';
import { ProcessPool } from '../processes/process-pool.ts';
import type { Outcome } from './read-job.ts';
import type { ReadingJob } from './reading-job.ts';

export interface ReadingPoolOptions {
  /** Processes that read, each with its own OpenCV. @default the cores */
  readonly workers?: number;
  /** Jobs that may wait; one more is refused. @default no limit */
  readonly maxWaiting?: number;
  /** A worker that needs longer for one photo, once it is loaded, is replaced. @default 120 */
  readonly secondsPerPhoto?: number;
  /** JavaScript heap of one worker; pixels and OpenCV lie outside it. @default 1024 */
  readonly heapMb?: number;
  /** The module that runs jobs. @default reading-worker.ts */
  readonly worker?: URL;
}

export interface PoolReadOptions {
  /** Gives up the job: it leaves the queue, or its worker is replaced. */
  readonly signal?: AbortSignal;
  /** Called with the number of jobs ahead whenever that changes; 0 when the job starts. */
  readonly onAhead?: (ahead: number) => void;
  /** Of two that wait, the one with the lower number is read first. @default 0 */
  readonly urgency?: number;
}

/** Thrown when as many jobs wait as may. */
export class PoolFullError extends Error {
  override readonly name = 'PoolFullError';
  readonly code = 'busy';

  constructor(waiting: number) {
    super(`${waiting} photos are waiting to be read already: try again in a minute.`);
  }
}

/** Of a photo whose worker was killed, by the system or by the photo: it was not read. */
export const WORKER_DIED = 'worker-died';

/** A worker loads for about a second; a machine under heavy load takes far longer. */
const LOADING_SECONDS = 300;

/** Loaded workers are kept for so long without a photo. */
const IDLE_MS = 60_000;

interface Waiting {
  readonly urgency: number;
  readonly start: () => void;
  readonly onAhead: ((ahead: number) => void) | undefined;
}

/**
 * Reads photos in processes of their own, by urgency and then first come first served. A worker that
 * dies or hangs is replaced, and the photo it held gets an outcome that says so.
 */
export class ReadingPool {
  readonly workers: number;
  readonly #pool: ProcessPool<ReadingJob, Outcome>;
  readonly #maxWaiting: number;
  readonly #secondsPerPhoto: number;
  readonly #queue: Waiting[] = [];
  #busy = 0;

  constructor(options: ReadingPoolOptions = {}) {
    this.workers = options.workers ?? availableParallelism();
    this.#maxWaiting = options.maxWaiting ?? Infinity;
    this.#secondsPerPhoto = options.secondsPerPhoto ?? 120;
    this.#pool = new ProcessPool({
      module: options.worker ?? new URL('./reading-worker.ts', import.meta.url),
      processes: this.workers,
      heapMb: options.heapMb ?? 1024,
      idleMs: IDLE_MS,
    });
  }

  get waiting(): number {
    return this.#queue.length;
  }

  get busy(): number {
    return this.#busy;
  }

  /** @throws PoolFullError when the queue is full */
  needRoom(): void {
    if (this.#busy < this.workers) return;
    if (this.#queue.length >= this.#maxWaiting) throw new PoolFullError(this.#queue.length);
  }

  /**
   * @throws PoolFullError when the queue is full; the signal's reason when the caller gave up
   */
  async read(job: ReadingJob, options: PoolReadOptions = {}): Promise<Outcome> {
    await this.#turn(options);
    const start = performance.now();
    const limit = this.#limit();
    const signal = options.signal ? AbortSignal.any([options.signal, limit.signal]) : limit.signal;
    try {
      return await this.#pool.run(job, { signal, onBegin: limit.begin });
    } catch (error) {
      options.signal?.throwIfAborted();
      const elapsedMs = Math.round(performance.now() - start);
      const tookTooLong = limit.signal.aborted;
      return { ok: false, elapsedMs, error: lost(error, tookTooLong, this.#secondsPerPhoto) };
    } finally {
      limit.end();
      this.#busy--;
      this.#next();
    }
  }

  /** The time limit of one job: it runs from when its worker, loaded, begins with it. */
  #limit() {
    const controller = new AbortController();
    const expire = () => controller.abort();
    let timer = setTimeout(expire, LOADING_SECONDS * 1000);
    const begin = () => {
      clearTimeout(timer);
      timer = setTimeout(expire, this.#secondsPerPhoto * 1000);
    };
    return { signal: controller.signal, begin, end: () => clearTimeout(timer) };
  }

  /** Lets running and waiting jobs finish, then ends the workers. */
  async close(): Promise<void> {
    while (this.#busy > 0 || this.#queue.length > 0) {
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
    await this.#pool.close();
  }

  /** Resolves when a worker is free for the caller. */
  async #turn({ signal, onAhead, urgency = 0 }: PoolReadOptions): Promise<void> {
    signal?.throwIfAborted();
    if (this.#busy < this.workers) {
      this.#busy++;
      onAhead?.(0);
      return;
    }
    this.needRoom();
    await new Promise<void>((resolve, reject) => {
      const waiting: Waiting = {
        urgency,
        onAhead,
        start: () => {
          signal?.removeEventListener('abort', leave);
          resolve();
        },
      };
      const leave = () => {
        this.#queue.splice(this.#queue.indexOf(waiting), 1);
        this.#tellAhead();
        reject(signal!.reason as Error);
      };
      signal?.addEventListener('abort', leave, { once: true });
      const later = this.#queue.findIndex((other) => other.urgency > urgency);
      if (later < 0) {
        this.#queue.push(waiting);
        onAhead?.(this.#queue.length);
        return;
      }
      this.#queue.splice(later, 0, waiting);
      this.#tellAhead();
    });
  }

  #next(): void {
    if (this.#busy >= this.workers) return;
    const next = this.#queue.shift();
    if (next === undefined) return;
    this.#busy++;
    next.onAhead?.(0);
    next.start();
    this.#tellAhead();
  }

  #tellAhead(): void {
    this.#queue.forEach((waiting, index) => waiting.onAhead?.(index + 1));
  }
}

function lost(error: unknown, tookTooLong: boolean, seconds: number) {
  if (tookTooLong) {
    return {
      code: 'took-too-long',
      message: `The photo was given up after ${seconds} s: send a smaller or clearer one.`,
    };
  }
  if (process.env['ENDWISE_DEBUG'] !== undefined) console.error(error);
  return {
    code: WORKER_DIED,
    message: 'Reading this photo brought its worker down; the others went on without it.',
  };
}
