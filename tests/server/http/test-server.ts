import { pino } from 'pino';
import { afterAll } from 'vitest';
import type { AppDeps } from '../../../server/http/app-deps.ts';
import { createApp } from '../../../server/http/create-app.ts';
import { listen } from '../../../server/http/listen.ts';
import type { Outcome } from '../../../server/reading/read-job.ts';

/** Says that there is no face, so that only what lies around the reading is under test. */
export const noFacePool: AppDeps['pool'] = {
  waiting: 0,
  busy: 0,
  read: (_job, options) => {
    options?.onAhead?.(1);
    options?.onAhead?.(0);
    return Promise.resolve<Outcome>({
      ok: false,
      elapsedMs: 1,
      error: { code: 'no-face', message: 'No face was found.' },
    });
  },
};

/** A server on a free port of the loopback, closed after the test file. */
export async function testServer(
  deps: Partial<AppDeps> & { uploadFolder: string; log: AppDeps['log'] },
) {
  const app = createApp({
    pool: noFacePool,
    sizes: () => Promise.resolve({}),
    webFolder: null,
    logger: pino({ level: 'silent' }),
    version: 'test',
    ...deps,
  });
  const server = await listen(app, { host: '127.0.0.1', port: 0 });
  afterAll(() => server.close());
  return server;
}
