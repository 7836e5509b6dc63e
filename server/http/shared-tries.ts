import type { Options, Store } from 'express-rate-limit';
import type { TryCounter } from '../log/storage.ts';

/** Counts for a limit in the log, so that a visitor has no more tries with two servers than with one. */
export class SharedTries implements Store {
  /** Other servers count the same ones. */
  readonly localKeys = false;
  readonly prefix: string;
  readonly #tries: TryCounter;
  #windowMs = 0;

  /** @param limit which of several limits */
  constructor(tries: TryCounter, limit: string) {
    this.#tries = tries;
    this.prefix = `${limit} `;
  }

  init({ windowMs }: Options): void {
    this.#windowMs = windowMs;
  }

  async increment(key: string) {
    const { count, endsAt } = await this.#tries.count(this.prefix + key, this.#windowMs);
    return { totalHits: count, resetTime: endsAt };
  }

  decrement(key: string): Promise<void> {
    return this.#tries.takeBack(this.prefix + key);
  }

  resetKey(key: string): Promise<void> {
    return this.#tries.forget(this.prefix + key);
  }
}
