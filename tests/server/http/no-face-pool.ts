import type { ReadingPool } from '../../../server/reading/reading-pool.ts';
import type { Outcome } from '../../../server/reading/read-job.ts';

/** Says that there is no face, so that only what lies around the reading is under test. */
export const noFacePool: Pick<ReadingPool, 'read' | 'waiting' | 'busy' | 'needRoom' | 'close'> = {
  waiting: 0,
  busy: 0,
  needRoom: () => undefined,
  close: () => Promise.resolve(),
  read: async (_job, options) => {
    options?.onAhead?.(1);
    // Nothing begins at once.
    await new Promise((resolve) => setImmediate(resolve));
    options?.onAhead?.(0);
    const outcome: Outcome = {
      ok: false,
      elapsedMs: 1,
      error: { code: 'no-face', message: 'No face was found.' },
    };
    return outcome;
  },
};
