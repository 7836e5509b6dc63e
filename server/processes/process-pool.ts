import { fileURLToPath } from 'node:url';
import workerpool from 'workerpool';

export interface ProcessPoolOptions {
  /**
   * The module whose default export does a job; what its `prepare`, where it has one, does comes first
   * and is no part of the job's time. Jobs and results are copied: plain data and typed arrays.
   */
  readonly module: URL;
  readonly processes: number;
  /** JavaScript heap of one process; pixels, OpenCV and native code lie outside it. */
  readonly heapMb: number;
  /** After so long without a job the processes end. */
  readonly idleMs: number;
}

export interface RunOptions {
  /** Gives the job up: its process is replaced. */
  readonly signal?: AbortSignal;
  /** Called when the process has prepared itself and begins with the job. */
  readonly onBegin?: () => void;
}

const ENTRY = fileURLToPath(new URL('./process-entry.mjs', import.meta.url));

/** Half of the room for young objects in a process, MB; the engine would take 16. */
const YOUNG_MB = 4;

/** A process that does not end by itself within this time is killed. */
const KILL_AFTER_MS = 200;

/**
 * Does jobs in processes of their own, started when needed. Code that a photo makes crash, hang or run
 * out of memory takes its process down and nothing else; threads of this process would not do, since
 * native code that crashes in one ends them all.
 */
export class ProcessPool<Job, Result> {
  readonly #options: ProcessPoolOptions;
  #pool: ReturnType<typeof workerpool.pool> | undefined;
  #running = 0;
  #rest: NodeJS.Timeout | undefined;

  constructor(options: ProcessPoolOptions) {
    this.#options = options;
  }

  /** @throws whatever the job threw; an error of another kind when its process died or was ended */
  async run(job: Job, { signal, onBegin }: RunOptions = {}): Promise<Result> {
    let begun = false;
    const begin = () => {
      begun = true;
      onBegin?.();
    };
    try {
      return await this.#runOnce(job, signal, begin);
    } catch (error) {
      // A process that was gone before it began, ended by the system while it rested, says nothing
      // of the job.
      if (begun || signal?.aborted) throw error;
      return this.#runOnce(job, signal, begin);
    }
  }

  async #runOnce(job: Job, signal: AbortSignal | undefined, onBegin: () => void): Promise<Result> {
    signal?.throwIfAborted();
    clearTimeout(this.#rest);
    this.#pool ??= this.#start();
    this.#running++;
    const doing = this.#pool.exec('run', [job], { on: onBegin });
    const giveUp = () => void doing.cancel();
    signal?.addEventListener('abort', giveUp, { once: true });
    try {
      return (await doing) as Result;
    } finally {
      signal?.removeEventListener('abort', giveUp);
      if (--this.#running === 0) {
        this.#rest = setTimeout(() => void this.close(), this.#options.idleMs);
        this.#rest.unref();
      }
    }
  }

  /** Ends the processes; a later job starts new ones. */
  async close(): Promise<void> {
    clearTimeout(this.#rest);
    const ending = this.#pool;
    this.#pool = undefined;
    await ending?.terminate();
  }

  #start() {
    const { module, processes, heapMb } = this.#options;
    return workerpool.pool(ENTRY, {
      workerType: 'process',
      maxWorkers: processes,
      workerTerminateTimeout: KILL_AFTER_MS,
      // What a dying process says is of no use on the terminal of a person.
      emitStdStreams: true,
      forkArgs: [module.href],
      forkOpts: {
        serialization: 'advanced',
        // Otherwise the interrupt key on a terminal would end them in the middle of a job.
        detached: process.platform !== 'win32',
        // As many processes as cores keep them busy: the engine's helper threads would only push in
        // between (two processes do a tenth more without them, one alone no less).
        // Young objects are given little room: what lies there unused would stay resident.
        execArgv: [
          '--single-threaded',
          `--max-semi-space-size=${YOUNG_MB}`,
          `--max-old-space-size=${heapMb}`,
        ],
      },
    });
  }
}
