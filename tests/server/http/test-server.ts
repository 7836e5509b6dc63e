import { afterAll } from 'vitest';
import type { AppDeps } from '../../../server/http/app-deps.ts';
import { appOfTests } from './app-of-tests.ts';
import { listen } from '../../../server/http/listen.ts';

export { noFacePool } from './no-face-pool.ts';

/** A server on a free port of the loopback, closed after the test file. */
export async function testServer(
  deps: Partial<AppDeps> & { uploadFolder: string; log: AppDeps['log'] },
) {
  const app = appOfTests(deps);
  const server = await listen(app, { host: '127.0.0.1', port: 0 });
  afterAll(() => server.close());
  return server;
}
