import { pino } from 'pino';
import type { AppDeps } from '../../../server/http/app-deps.ts';
import { createApp } from '../../../server/http/create-app.ts';
import { PoolReadings } from '../../../server/reading/pool-readings.ts';
import { noFacePool } from './no-face-pool.ts';

export type DepsOfTests = Partial<AppDeps> &
  Pick<AppDeps, 'uploadFolder' | 'log'> & { readonly pool?: typeof noFacePool };

/** The server's app, silent, with nothing that takes long: no page, and a pool that finds no faces. */
export function appOfTests(deps: DepsOfTests) {
  return createApp(depsOfTests(deps));
}

export function depsOfTests({ pool = noFacePool, ...deps }: DepsOfTests): AppDeps {
  return {
    readings: new PoolReadings(pool),
    sizes: () => Promise.resolve({}),
    webFolder: null,
    logger: pino({ level: 'silent' }),
    version: 'test',
    ...deps,
  };
}
