import type { QueueStore } from './queue-store.ts';

/**
 * After the database was away all leases have run out: workers get so much of a lease's time to renew
 * them before they are taken for dead.
 */
const GRACE = 0.5;

/** Of a lease's time: how often is looked for those that have run out, at least, and by chance more. */
const SWEEP_EVERY = 0.5;
const SWEEP_EVERY_MORE = 0.2;

/** What is kept for days may stay a little longer, ms. */
const PURGE_EVERY_MS = 60_000;

/**
 * Gives jobs of workers that died to others, and removes what has been kept long enough. Every server
 * and worker does so: it may be done by several at once.
 */
export class Sweeper {
  readonly #store: QueueStore;
  readonly #onLost: (what: 'again' | 'aside') => void;
  /** Since when each lease was seen to have run out, by its token. */
  readonly #seen = new Map<string, number>();
  #purged = -Infinity;
  #timer: NodeJS.Timeout | undefined;
  #sweeping: Promise<void> | undefined;

  /** @param onLost called for each job whose worker was taken for dead */
  constructor(store: QueueStore, onLost: (what: 'again' | 'aside') => void = () => undefined) {
    this.#store = store;
    this.#onLost = onLost;
  }

  start(): void {
    const every =
      this.#store.leaseSeconds * 1000 * (SWEEP_EVERY + SWEEP_EVERY_MORE * Math.random());
    this.#timer = setInterval(() => {
      // While the database is away nobody is to blame for not renewing.
      this.#sweeping ??= this.sweep()
        .catch(() => this.#seen.clear())
        .finally(() => (this.#sweeping = undefined));
    }, every);
    this.#timer.unref();
  }

  async stop(): Promise<void> {
    clearInterval(this.#timer);
    await this.#sweeping;
  }

  async sweep(now = performance.now()): Promise<void> {
    const lapsed = await this.#store.lapsed();
    const tokens = new Set(lapsed.map(({ token }) => token));
    for (const token of this.#seen.keys()) if (!tokens.has(token)) this.#seen.delete(token);
    for (const job of lapsed) {
      const since = this.#seen.get(job.token) ?? now;
      this.#seen.set(job.token, since);
      if (now - since < this.#store.leaseSeconds * 1000 * GRACE) continue;
      const what = await this.#store.lose(job);
      if (what !== null) this.#onLost(what);
    }
    if (now - this.#purged < PURGE_EVERY_MS) return;
    await this.#store.purge();
    this.#purged = now;
  }
}
