import { mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { appOfTests } from '../server/http/app-of-tests.ts';
import { fromTheNetwork } from '../server/http/from-the-network.ts';
import { listen, type Listening } from '../../server/http/listen.ts';
import { Log } from '../../server/log/log.ts';
import { ELSEWHERE, PHONE, sharedBrowser, visit } from './browser.ts';
import { goToStep, openReading } from './open-reading.ts';
import { folderPrefix } from '../server/folders-of-runs.ts';

const folder = mkdtempSync(folderPrefix());
const ABOUT = { face: 'wa80', shaftMm: 8.1, distanceM: 50, fletched: 3, bare: 2 };
let log: Log;
let server: Listening;

const serve = (port: number) => {
  const app = appOfTests({
    webFolder: fileURLToPath(new URL('../../dist/web/', import.meta.url)),
    uploadFolder: folder,
    log,
  });
  return listen(fromTheNetwork(app), { host: '127.0.0.1', port });
};
beforeAll(async () => {
  log = await Log.open(join(folder, 'log'));
  server = await serve(0);
});
afterAll(async () => {
  await server.close();
  await log.close();
  rmSync(folder, { recursive: true });
});

it('keeps an end although the server has gone, and loads what is missing once it is back', async () => {
  const url = `http://${ELSEWHERE}:${server.port}/`;
  const { context, page } = await visit(await sharedBrowser(), url, PHONE, ABOUT);
  await openReading(page, 'fresh-02');
  await page.waitForFunction(() =>
    performance.getEntriesByType('resource').some(({ name }) => /\/kept-page-.*\.js$/.test(name)),
  );
  await server.close();
  await goToStep(page, 'Keep');
  await page.locator('.panel-keep .button.primary').tap();
  await page.locator('.end-card').waitFor();

  await page.getByRole('link', { name: 'Trends' }).tap();
  await expect.poll(() => page.getByRole('alert').textContent()).toMatch(/could not be loaded/);
  server = await serve(server.port);
  await page.getByRole('button', { name: 'Try again' }).tap();
  await page.locator('.trend-plot svg').first().waitFor();
  await context.close();
});

it('says as long as it is so that an end was not kept for want of room', async () => {
  const url = `http://${ELSEWHERE}:${server.port}/`;
  const { context, page } = await visit(await sharedBrowser(), url, PHONE, ABOUT);
  await openReading(page, 'fresh-02');
  await goToStep(page, 'Keep');
  await page.evaluate(() => {
    const store = IDBObjectStore.prototype;
    // eslint-disable-next-line @typescript-eslint/unbound-method -- called by `apply` alone
    const put = store.put;
    store.put = function (...args) {
      if (this.name !== 'ends') return put.apply(this, args);
      store.put = put;
      throw new DOMException('no room', 'QuotaExceededError');
    };
  });
  const keep = page.locator('.panel-keep .button.primary');
  await keep.tap();
  const said = page.getByRole('alert');
  await expect.poll(() => said.textContent()).toMatch(/the end is not kept\. Make room/);
  await keep.tap();
  await page.locator('.end-card').waitFor();
  await context.close();
});
