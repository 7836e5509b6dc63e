import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { Log } from '../../../server/log/log.ts';
import { ReadingPool } from '../../../server/reading/reading-pool.ts';
import { testServer } from '../http/test-server.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { runLoad } from './run-load.ts';

const folder = temporaryFolder();
const worker = new URL('../reading/poisoned-worker.ts', import.meta.url);
const pool = new ReadingPool({ workers: 2, maxWaiting: 20, worker });
afterAll(() => pool.close());

// `npm run bench -- load` measures the same with real readings, and how long pages take.
it('50 clients upload: each gets a result or is told to come again, in a bounded queue', async () => {
  const uploadFolder = join(folder, 'uploads');
  mkdirSync(uploadFolder);
  const log = await Log.open(join(folder, 'log'));
  const { url } = await testServer({ pool, uploadFolder, log });
  const photo = new Uint8Array(20_000);
  const pages = ['/api/health', '/api/log/ends'];
  const report = await runLoad({ url, clients: 50, seconds: 3, leastPages: 6, photo, pages });
  expect(report.lost).toEqual([]);
  expect(Object.keys(report.uploads).sort()).toEqual(['busy', 'no-face']);
  expect(report.queued.told).toBeGreaterThan(20);
  expect(report.queued.farthest).toBeLessThanOrEqual(20);
  expect(report.pages.failed).toBe(0);
  await log.close();
});
