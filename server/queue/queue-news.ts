import { setTimeout as wait } from 'node:timers/promises';
import { Client, type ClientConfig } from 'pg';
import { CHANNEL, type State } from './queue-tables.ts';

/** What became of a job; 'gone': its row was deleted. */
export interface News {
  readonly what: State | 'gone';
  readonly id: string;
}

/** Called with each news, and with null whenever some may have been missed. */
export type Listener = (news: News | null) => void;

/**
 * A notification may get lost on its way, and a change that another held back meanwhile is told by
 * none: so often whoever waits looks by themselves, ms.
 */
const LOOK_EVERY_MS = 15_000;

/** An answer that takes longer comes no more, ms. */
const ANSWER_MS = 10_000;

/** Before the connection is tried again, first and at most, ms. */
const FIRST_PAUSE_MS = 100;
const LONGEST_PAUSE_MS = 2000;

/**
 * The database's news of the queue (its LISTEN), by one connection of its own, from when somebody first
 * listens: nobody else needs to ask again and again whether something has changed. While there is no
 * connection, listeners are told to look by themselves at every try.
 */
export class QueueNews {
  readonly #config: ClientConfig;
  readonly #listeners = new Set<Listener>();
  readonly #closing = new AbortController();
  #following: Promise<void> | undefined;

  constructor(config: ClientConfig) {
    this.#config = { ...config, keepAlive: true, query_timeout: ANSWER_MS };
  }

  /** @returns what ends it */
  listen(listener: Listener): () => void {
    this.#listeners.add(listener);
    this.#following ??= this.#follow();
    return () => void this.#listeners.delete(listener);
  }

  async close(): Promise<void> {
    this.#closing.abort();
    this.#listeners.clear();
    await this.#following;
  }

  async #follow(): Promise<void> {
    const { signal } = this.#closing;
    let pause = FIRST_PAUSE_MS;
    while (!signal.aborted) {
      // Once it was heard the next may be tried soon.
      if (await this.#hear()) pause = FIRST_PAUSE_MS;
      this.#tell(null);
      await wait(pause, undefined, { signal }).catch(() => undefined);
      pause = Math.min(pause * 2, LONGEST_PAUSE_MS);
    }
  }

  /** Until the connection ends. @returns whether there was one */
  async #hear(): Promise<boolean> {
    const client = new Client(this.#config);
    const over = new AbortController();
    const end = () => over.abort();
    client.on('error', end).on('end', end);
    client.on('notification', ({ payload = '' }) => this.#tell(newsOf(payload)));
    const signal = AbortSignal.any([over.signal, this.#closing.signal]);
    let isHeard = false;
    try {
      await client.connect();
      while (!signal.aborted) {
        // Asked again it changes nothing, and shows whether there is still somebody at the other end.
        await client.query(`LISTEN ${CHANNEL}`);
        isHeard = true;
        this.#tell(null);
        await wait(LOOK_EVERY_MS, undefined, { signal }).catch(() => undefined);
      }
    } catch {
      // Listeners learn what is wrong by what they ask themselves.
    }
    // One that does not answer is not waited for long.
    const ended = client.end().catch(() => undefined);
    await Promise.race([ended, wait(LONGEST_PAUSE_MS, undefined, { ref: false })]);
    return isHeard;
  }

  #tell(news: News | null): void {
    for (const listener of [...this.#listeners]) listener(news);
  }
}

/** As the trigger of the table of readings writes it. */
function newsOf(payload: string): News {
  const [what, id] = payload.split(' ');
  return { what: what as News['what'], id: id! };
}
