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

/** How often those who wait are told how it stands, all by one question, ms. */
const LOOK_EVERY_MS = 250;

const MOST_WAITING = 2000;
const KEPT_HOURS = 7 * 24;

interface Follower {
  readonly id: string;
  readonly onAhead: ((ahead: number) => void) | undefined;
  readonly isOver: () => void;
  ahead: number | null;
}

/** Readings by workers on any machine, through the queue in the database. Nothing of them is here. */
export class QueueReadings implements Readings {
  readonly keptHours = KEPT_HOURS;
  readonly #store: QueueStore;
  readonly #options: QueueReadingsOptions;
  readonly #followers = new Set<Follower>();
  #looking: NodeJS.Timeout | undefined;
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
      follower = { id, onAhead, isOver: resolve, ahead: null };
      this.#followers.add(follower);
    });
    this.#lookSoon(0);
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
    clearTimeout(this.#looking);
    await this.#options.onClose();
  }

  #patiently<T>(work: () => Promise<T>): Promise<T> {
    return whileAway(work, PATIENCE_MS).catch((error: unknown) => {
      throw explainPostgres(error);
    });
  }

  #lookSoon(ms = LOOK_EVERY_MS): void {
    if (this.#closed || this.#followers.size === 0) return;
    this.#looking ??= setTimeout(() => {
      // While the database is away there is nothing to tell.
      void this.#look()
        .catch(() => undefined)
        .finally(() => {
          this.#looking = undefined;
          this.#lookSoon();
        });
    }, ms);
  }

  async #look(): Promise<void> {
    const followers = [...this.#followers];
    const standings = await this.#store.standings([...new Set(followers.map(({ id }) => id))]);
    const standingOf = new Map(standings.map((standing) => [standing.id, standing]));
    for (const follower of followers) {
      const standing = standingOf.get(follower.id);
      if (standing === undefined || standing.state === 'read') follower.isOver();
      else if (standing.ahead !== follower.ahead) {
        follower.ahead = standing.ahead;
        follower.onAhead?.(standing.ahead);
      }
    }
  }
}
