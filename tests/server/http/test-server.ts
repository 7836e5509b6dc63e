import { afterAll } from 'vitest';
import { appOfTests, type DepsOfTests } from './app-of-tests.ts';
import { listen } from '../../../server/http/listen.ts';

export { noFacePool } from './no-face-pool.ts';

/** A server on a free port of the loopback, closed after the test file. */
export async function testServer(deps: DepsOfTests) {
  const app = appOfTests(deps);
  const server = await listen(app, { host: '127.0.0.1', port: 0 });
  afterAll(() => server.close());
  return server;
}
