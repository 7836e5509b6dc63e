import { setTimeout as wait } from 'node:timers/promises';
import { isAway, isConflict, isReadOnly } from '../log/explain-postgres.ts';

/** First wait before a database that is away is tried again, and the longest, ms. */
const FIRST_MS = 100;
const LONGEST_MS = 2000;

export interface WhileAwayOptions {
  /** Of waiting in all. */
  readonly patienceMs: number;
  /** Whether it passes. @default what does within seconds, as when a database is started anew */
  readonly passes?: (error: unknown) => boolean;
  readonly signal?: AbortSignal;
}

/** Does what may be done twice again while the database is away. */
export async function whileAway<T>(
  work: () => Promise<T>,
  { patienceMs, passes = passesSoon, signal }: WhileAwayOptions,
): Promise<T> {
  const until = performance.now() + patienceMs;
  for (let pause = FIRST_MS; ; pause = Math.min(pause * 2, LONGEST_MS)) {
    try {
      return await work();
    } catch (error) {
      if (!passes(error) || performance.now() + pause > until || signal?.aborted) throw error;
      await wait(pause, undefined, { ...(signal ? { signal } : {}) });
    }
  }
}

function passesSoon(error: unknown): boolean {
  return isAway(error) || isConflict(error) || isReadOnly(error);
}
