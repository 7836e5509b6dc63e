import { randomUUID } from 'node:crypto';
import { photosSha256 } from './photos-sha256.ts';
import type { Outcome } from './read-job.ts';
import type { ReadingJob } from './reading-job.ts';
import { WORKER_DIED, type ReadingPool } from './reading-pool.ts';
import {
  FETCHED_SECONDS,
  KeyUsedError,
  MOST_DEATHS,
  SET_ASIDE,
  type Figures,
  type FollowOptions,
  type Found,
  type Readings,
  type Submission,
} from './readings.ts';
import { unlessAborted } from './unless-aborted.ts';

/** Results in memory are kept for so long, and no longer than the server runs. */
const KEPT_HOURS = 1;

type Pool = Pick<ReadingPool, 'read' | 'busy' | 'waiting' | 'needRoom' | 'close'>;

interface Entry {
  readonly submission: Omit<Submission, 'job' | 'photosTaken'>;
  readonly since: number;
  readonly stop: AbortController;
  readonly followers: Set<(ahead: number) => void>;
  /** Jobs before it in the queue, 0 once it is being read; null until that is known. */
  ahead: number | null;
  /** Null before it is handed to the pool. */
  read: Promise<Outcome> | null;
  outcome: Outcome | null;
  timer: NodeJS.Timeout | undefined;
}

/** Readings by processes of this machine; what is known of them goes with this process. */
export class PoolReadings implements Readings {
  readonly keptHours = KEPT_HOURS;
  readonly #pool: Pool;
  readonly #entries = new Map<string, Entry>();
  /** Jobs by submitter and key, with the hash of their photos. */
  readonly #keys = new Map<string, { readonly id: string; readonly sha256: string }>();

  readonly #onRead: (outcome: Outcome) => void;

  /** @param onRead called with what became of each photo */
  constructor(pool: Pool, onRead: (outcome: Outcome) => void = () => undefined) {
    this.#pool = pool;
    this.#onRead = onRead;
  }

  get here() {
    return { busy: this.#pool.busy, waiting: this.#pool.waiting };
  }

  async submit({ job, photosTaken, ...submission }: Submission): Promise<string> {
    const id = randomUUID();
    const name = nameOf(submission);
    const sha256 = name === null ? '' : await photosSha256(job);
    const before = name === null ? undefined : this.#keys.get(name);
    if (before !== undefined) {
      if (before.sha256 !== sha256) throw new KeyUsedError();
      await photosTaken?.();
      return before.id;
    }
    this.#pool.needRoom();
    if (name !== null) this.#keys.set(name, { id, sha256 });
    const entry: Entry = {
      submission,
      since: Date.now(),
      stop: new AbortController(),
      followers: new Set(),
      ahead: null,
      read: null,
      outcome: null,
      timer: undefined,
    };
    this.#entries.set(id, entry);
    entry.read = this.#read(job, entry).finally(() => photosTaken?.());
    entry.read.then(
      (outcome) => {
        entry.outcome = outcome;
        this.#onRead(outcome);
        this.#goesAfter(id, KEPT_HOURS * 3600);
      },
      // Followers are told; what nobody was promised needs no keeping.
      () => this.#forget(id),
    );
    return id;
  }

  find(id: string): Promise<Found | null> {
    const entry = this.#entries.get(id);
    return Promise.resolve(entry === undefined ? null : foundOf(id, entry));
  }

  async follow(id: string, { signal, onAhead }: FollowOptions = {}): Promise<Found | null> {
    const entry = this.#entries.get(id);
    if (entry === undefined) return null;
    signal?.throwIfAborted();
    if (onAhead) entry.followers.add(onAhead);
    if (entry.ahead !== null && entry.outcome === null) onAhead?.(entry.ahead);
    try {
      await unlessAborted(entry.read!, signal);
      return foundOf(id, entry);
    } catch (error) {
      // It was dropped.
      if (entry.stop.signal.aborted && !signal?.aborted) return null;
      throw error;
    } finally {
      if (onAhead) entry.followers.delete(onAhead);
    }
  }

  fetched(id: string): Promise<void> {
    this.#goesAfter(id, FETCHED_SECONDS);
    return Promise.resolve();
  }

  drop(id: string): Promise<boolean> {
    const entry = this.#entries.get(id);
    entry?.stop.abort(new Error('The job was cancelled.'));
    this.#forget(id);
    return Promise.resolve(entry !== undefined);
  }

  async dropOf(archerId: string): Promise<number> {
    const ids = [...this.#entries].flatMap(([id, { submission }]) =>
      ofArcherIn(submission) === archerId ? [id] : [],
    );
    for (const id of ids) await this.drop(id);
    return ids.length;
  }

  figures(): Promise<Figures> {
    const entries = [...this.#entries.values()];
    const kept = entries.filter(({ outcome }) => outcome !== null);
    const waiting = entries.filter(({ outcome, ahead }) => outcome === null && ahead !== 0);
    const oldest = Math.min(Date.now(), ...waiting.map(({ since }) => since));
    return Promise.resolve({
      waiting: waiting.length,
      reading: this.#pool.busy,
      setAside: 0,
      kept: kept.length,
      oldestSeconds: (Date.now() - oldest) / 1000,
    });
  }

  check(): Promise<void> {
    return Promise.resolve();
  }

  async close(): Promise<void> {
    await this.#pool.close();
    for (const id of [...this.#entries.keys()]) this.#forget(id);
  }

  async #read(job: ReadingJob, entry: Entry): Promise<Outcome> {
    const { urgency } = entry.submission;
    const onAhead = (ahead: number) => {
      if (ahead === entry.ahead) return;
      entry.ahead = ahead;
      for (const tell of entry.followers) tell(ahead);
    };
    for (let deaths = 0; ;) {
      const outcome = await this.#pool.read(job, { signal: entry.stop.signal, urgency, onAhead });
      if (outcome.ok || outcome.error.code !== WORKER_DIED) return outcome;
      if (++deaths === MOST_DEATHS) return { ...outcome, error: SET_ASIDE };
    }
  }

  #goesAfter(id: string, seconds: number): void {
    const entry = this.#entries.get(id);
    if (entry === undefined) return;
    clearTimeout(entry.timer);
    entry.timer = setTimeout(() => this.#forget(id), seconds * 1000);
    entry.timer.unref();
  }

  #forget(id: string): void {
    const entry = this.#entries.get(id);
    if (entry === undefined) return;
    clearTimeout(entry.timer);
    this.#entries.delete(id);
    const name = nameOf(entry.submission);
    if (name !== null) this.#keys.delete(name);
  }
}

function nameOf({ by, key }: Pick<Submission, 'by' | 'key'>): string | null {
  return key === undefined ? null : JSON.stringify([by.deviceId, key]);
}

function ofArcherIn({ by, ofArcher }: Pick<Submission, 'by' | 'ofArcher'>): string | null {
  return ofArcher ?? by.archerId;
}

function foundOf(id: string, { submission, ahead, outcome }: Entry): Found {
  const { by, about = {} } = submission;
  const found = { id, by, ofArcher: ofArcherIn(submission), about };
  if (outcome !== null) return { ...found, standing: { state: 'read', outcome } };
  if (ahead === 0) return { ...found, standing: { state: 'reading' } };
  return { ...found, standing: { state: 'waiting', ahead: ahead ?? 1 } };
}
