import { randomUUID } from 'node:crypto';
import { explainPostgres } from '../log/explain-postgres.ts';
import type { Figures, FollowOptions, Found, Readings, Submission } from '../reading/readings.ts';
import { unlessAborted } from '../reading/unless-aborted.ts';
import type { QueueStore } from './queue-store.ts';
import { whileAway } from './while-away.ts';

export interface QueueReadingsOptions {
  /** One more is refused. @default 2000 */
  readonly mostWaiting?: number;
  /** Ends what the queue stands on. */
  readonly onClose: () => Promise<void>;
}

/** A database that is started anew is there again within seconds. */
const PATIENCE_MS = 10_000;

/**
 * How often those who wait are told how it stands, all by one question, ms: the more seldom, the longer
 * even the last to come has waited, as what takes long is learnt of in time by a part of that.
 */
const LOOK_EVERY_MS = 250;
const LOOK_AT_LEAST_EVERY_MS = 1000;
const PART_OF_WAIT = 0.1;

const MOST_WAITING = 2000;
const KEPT_HOURS = 7 * 24;

interface Follower {
  readonly id: string;
  readonly onAhead: ((ahead: number) => void) | undefined;
  readonly isOver: () => void;
  /** By `performance.now`, ms. */
  readonly since: number;
  ahead: number | null;
}

/** Readings by workers on any machine, through the queue in the database. Nothing of them is here. */
export class QueueReadings implements Readings {
  readonly keptHours = KEPT_HOURS;
  readonly #store: QueueStore;
  readonly #options: QueueReadingsOptions;
  readonly #followers = new Set<Follower>();
  #timer: NodeJS.Timeout | undefined;
  #lookAt = Infinity;
  #isLooking = false;
  #closed = false;

  constructor(store: QueueStore, options: QueueReadingsOptions) {
    this.#store = store;
    this.#options = options;
  }

  get here() {
    return { busy: 0, waiting: this.#followers.size };
  }

  async submit(submission: Submission): Promise<string> {
    const { mostWaiting = MOST_WAITING } = this.#options;
    // Tried again it has the same id: what was kept, though the answer got lost, is not kept twice.
    const id = randomUUID();
    const kept = await this.#patiently(() => this.#store.submit(id, submission, mostWaiting));
    await submission.photosTaken?.();
    return kept;
  }

  find(id: string): Promise<Found | null> {
    return this.#patiently(() => this.#store.find(id));
  }

  async follow(id: string, { signal, onAhead }: FollowOptions = {}): Promise<Found | null> {
    signal?.throwIfAborted();
    let follower: Follower | undefined;
    const over = new Promise<void>((resolve) => {
      follower = { id, onAhead, isOver: resolve, since: performance.now(), ahead: null };
      this.#followers.add(follower);
    });
    this.#lookSoon(this.#followers.size === 1 ? 0 : LOOK_EVERY_MS);
    try {
      await unlessAborted(over, signal);
    } finally {
      this.#followers.delete(follower!);
    }
    return this.find(id);
  }

  fetched(id: string): Promise<void> {
    return this.#patiently(() => this.#store.fetched(id));
  }

  drop(id: string): Promise<boolean> {
    return this.#patiently(() => this.#store.drop(id));
  }

  dropOf(archerId: string): Promise<number> {
    return this.#patiently(() => this.#store.dropOf(archerId));
  }

  figures(): Promise<Figures> {
    return this.#store.figures();
  }

  check(): Promise<void> {
    return this.#store.check();
  }

  async close(): Promise<void> {
    this.#closed = true;
    clearTimeout(this.#timer);
    await this.#options.onClose();
  }

  #patiently<T>(work: () => Promise<T>): Promise<T> {
    return whileAway(work, PATIENCE_MS).catch((error: unknown) => {
      throw explainPostgres(error);
    });
  }

  #lookSoon(ms: number): void {
    if (this.#closed || this.#followers.size === 0 || this.#isLooking) return;
    const at = performance.now() + ms;
    if (at >= this.#lookAt) return;
    clearTimeout(this.#timer);
    this.#lookAt = at;
    this.#timer = setTimeout(() => {
      this.#isLooking = true;
      // While the database is away there is nothing to tell.
      void this.#look()
        .catch(() => undefined)
        .finally(() => {
          this.#isLooking = false;
          this.#lookAt = Infinity;
          this.#lookSoon(this.#pause());
        });
    }, ms);
  }

  #pause(): number {
    const last = Math.max(...[...this.#followers].map(({ since }) => since));
    const part = PART_OF_WAIT * (performance.now() - last);
    return Math.min(LOOK_AT_LEAST_EVERY_MS, Math.max(LOOK_EVERY_MS, part));
  }

  async #look(): Promise<void> {
    const followers = [...this.#followers];
    const [told, others] = [
      followers.filter(({ onAhead }) => onAhead !== undefined),
      followers.filter(({ onAhead }) => onAhead === undefined),
    ];
    if (others.length > 0) {
      const left = await this.#store.stillToRead(idsOf(others));
      for (const { id, isOver } of others) if (!left.has(id)) isOver();
    }
    if (told.length === 0) return;
    const standings = await this.#store.standings(idsOf(told));
    const standingOf = new Map(standings.map((standing) => [standing.id, standing]));
    for (const follower of told) {
      const standing = standingOf.get(follower.id);
      if (standing === undefined || standing.state === 'read') follower.isOver();
      else if (standing.ahead !== follower.ahead) {
        follower.ahead = standing.ahead;
        follower.onAhead?.(standing.ahead);
      }
    }
  }
}

function idsOf(followers: readonly Follower[]): string[] {
  return [...new Set(followers.map(({ id }) => id))];
}
