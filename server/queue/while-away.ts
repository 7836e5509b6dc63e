import { setTimeout as wait } from 'node:timers/promises';

/** First wait before a database that is away is tried again, and the longest, ms. */
const FIRST_MS = 100;
const LONGEST_MS = 2000;

/** Of the connection: PostgreSQL's own classes 08 and 57P, and the network's. */
const AWAY =
  /^(08...|57P0.|53300|ECONNREFUSED|ECONNRESET|EPIPE|ETIMEDOUT|EHOSTUNREACH|ENETUNREACH|EAI_AGAIN)$/;
/** Two transactions in each other's way: one of them is to be tried again. */
const COLLIDED = /^40(001|P01)$/;

/** Whether the same may go well a moment later. */
export function passes(error: unknown): boolean {
  const { code } = error as { code?: unknown };
  if (typeof code === 'string') return AWAY.test(code) || COLLIDED.test(code);
  // The driver's own words for a connection that broke off, or did not come.
  return error instanceof Error && /connection terminated|timeout exceeded/i.test(error.message);
}

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
      if (!passes(error) || performance.now() + pause > until || signal?.aborted) throw error;
      await wait(pause, undefined, { ...(signal ? { signal } : {}) });
    }
  }
}
