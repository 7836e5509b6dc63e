import { setTimeout as wait } from 'node:timers/promises';
import { isAway, isConflict } from '../log/explain-postgres.ts';

/** First wait before a database that is away is tried again, and the longest, ms. */
const FIRST_MS = 100;
const LONGEST_MS = 2000;

/**
 * Does what may be done twice again while the database is away, as it is for seconds when it is
 * started anew. @param patienceMs of waiting in all
 */
export async function whileAway<T>(
  work: () => Promise<T>,
  patienceMs: number,
  signal?: AbortSignal,
): Promise<T> {
  const until = performance.now() + patienceMs;
  for (let pause = FIRST_MS; ; pause = Math.min(pause * 2, LONGEST_MS)) {
    try {
      return await work();
    } catch (error) {
      const passes = isAway(error) || isConflict(error);
      if (!passes || performance.now() + pause > until || signal?.aborted) throw error;
      await wait(pause, undefined, { ...(signal ? { signal } : {}) });
    }
  }
}
