import { randomUUID } from 'node:crypto';
import { explainPostgres } from '../log/explain-postgres.ts';
import type { Figures, FollowOptions, Found, Readings, Submission } from '../reading/readings.ts';
import { unlessAborted } from '../reading/unless-aborted.ts';
import type { News, QueueNews } from './queue-news.ts';
import type { QueueStore } from './queue-store.ts';
import { whileAway } from './while-away.ts';

export interface QueueReadingsOptions {
  /** One more is refused. @default 2000 */
  readonly mostWaiting?: number;
  /** How long a database that is away is waited for, ms. @default 10000 */
  readonly patienceMs?: number;
  /** Ends what the queue stands on. */
  readonly onClose: () => Promise<void>;
}

/** A database that is started anew is there again within seconds. */
const PATIENCE_MS = 10_000;

/** Places in the queue are told no more often, all by one question, ms. */
const TELL_EVERY_MS = 250;

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
  readonly #endNews: () => void;
  #timer: NodeJS.Timeout | undefined;
  #looking: Promise<void> = Promise.resolve();

  constructor(store: QueueStore, news: QueueNews, options: QueueReadingsOptions) {
    this.#store = store;
    this.#options = options;
    this.#endNews = news.listen((one) => this.#heard(one));
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
    let isOver!: () => void;
    const over = new Promise<void>((resolve) => (isOver = resolve));
    const follower: Follower = { id, onAhead, isOver, ahead: null };
    this.#followers.add(follower);
    try {
      // What came before is told by no news.
      const found = await unlessAborted(this.find(id), signal);
      if (found === null || found.standing.state === 'read') return found;
      tellAhead(follower, found.standing.state === 'waiting' ? found.standing.ahead : 0);
      await unlessAborted(over, signal);
    } finally {
      this.#followers.delete(follower);
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
    this.#endNews();
    clearTimeout(this.#timer);
    await this.#looking;
    await this.#options.onClose();
  }

  #patiently<T>(work: () => Promise<T>): Promise<T> {
    const { patienceMs = PATIENCE_MS } = this.#options;
    return whileAway(work, { patienceMs }).catch((error: unknown) => {
      throw explainPostgres(error);
    });
  }

  #heard(news: News | null): void {
    const followers = [...this.#followers];
    if (news !== null && isLast(news)) {
      for (const { id, isOver } of followers) if (id === news.id) isOver();
    }
    const mustLook = followers.some(({ onAhead }) => news === null || onAhead !== undefined);
    if (!mustLook) return;
    this.#timer ??= setTimeout(() => {
      this.#timer = undefined;
      // While the database is away there is nothing to tell; once it is back there are news.
      this.#looking = this.#looking.then(() => this.#look()).catch(() => undefined);
    }, TELL_EVERY_MS);
  }

  async #look(): Promise<void> {
    const followers = [...this.#followers];
    if (followers.length === 0) return;
    const ids = [...new Set(followers.map(({ id }) => id))];
    const standings = await this.#store.standings(ids);
    const standingOf = new Map(standings.map((standing) => [standing.id, standing]));
    for (const follower of followers) {
      const standing = standingOf.get(follower.id);
      if (standing === undefined || standing.state === 'read') follower.isOver();
      else tellAhead(follower, standing.ahead);
    }
  }
}

function tellAhead(follower: Follower, ahead: number): void {
  if (ahead === follower.ahead) return;
  follower.ahead = ahead;
  follower.onAhead?.(ahead);
}

function isLast({ what }: News): boolean {
  return what !== 'waiting' && what !== 'reading';
}
