import { pino } from 'pino';
import type { AppDeps } from '../../../server/http/app-deps.ts';
import { createApp } from '../../../server/http/create-app.ts';
import { noFacePool } from './no-face-pool.ts';

/** The server's app, silent, with nothing that takes long: no page, and a pool that finds no faces. */
export function appOfTests(deps: Partial<AppDeps> & Pick<AppDeps, 'uploadFolder' | 'log'>) {
  return createApp({
    pool: noFacePool,
    sizes: () => Promise.resolve({}),
    webFolder: null,
    logger: pino({ level: 'silent' }),
    version: 'test',
    ...deps,
  });
}
