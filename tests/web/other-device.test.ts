import { mkdtempSync, rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { appOfTests } from '../server/http/app-of-tests.ts';
import { listen, type Listening } from '../../server/http/listen.ts';
import { KEEPER } from '../../server/log/device-store.ts';
import { Log } from '../../server/log/log.ts';
import { fromTheNetwork } from '../server/http/from-the-network.ts';
import { ELSEWHERE, PHONE, sharedBrowser, visit } from './browser.ts';
import { goToStep, openReading } from './open-reading.ts';
import { folderPrefix } from '../server/folders-of-runs.ts';

/** Reading takes seconds on an idle machine, minutes on a busy one. */
const PATIENT = { timeout: 240_000 };

const folder = mkdtempSync(folderPrefix());
let log: Log;
let server: Listening;
let url: string;

beforeAll(async () => {
  log = await Log.open(folder);
  const app = appOfTests({
    webFolder: fileURLToPath(new URL('../../dist/web/', import.meta.url)),
    uploadFolder: folder,
    log,
  });
  server = await listen(fromTheNetwork(app), { host: '127.0.0.1', port: 0 });
  url = `http://${ELSEWHERE}:${server.port}/`;
});
afterAll(async () => {
  await server.close();
  await log.close();
  rmSync(folder, { recursive: true });
});

/** What browsers say of every page over plain HTTP. */
const toBeExpected = (complaint: string) => /Cross-Origin-Opener-Policy/.test(complaint);

describe('the page on another device, over plain HTTP', { timeout: 300_000 }, () => {
  it('pairs by the form, reads the demo, keeps it and hands it to the log', async () => {
    const options = { ...PHONE, serviceWorkers: 'allow' } as const;
    const code = await log.devices.newCode(KEEPER);
    const start = await visit(await sharedBrowser(), `${url}pair?code=AAAA-BBBB`, options);
    const { context, page, complaints } = start;
    expect(await page.evaluate(() => isSecureContext)).toBe(false);
    await page.getByRole('button', { name: 'Pair' }).tap();
    await expect.poll(() => page.getByRole('alert').textContent()).toMatch(/wrong or too old/);
    // The browser itself notes the answer's status.
    expect(complaints.splice(0).filter((one) => !toBeExpected(one))).toEqual([
      expect.stringContaining('403'),
    ]);
    await page.getByLabel('Code').fill(code);
    await page.getByRole('button', { name: 'Pair' }).tap();
    await page.getByText('Paired. Choose under Kept').waitFor();
    expect(page.url()).toBe(url);

    await page.getByRole('button', { name: /demo/i }).tap();
    await page.locator('[data-mark]').first().waitFor(PATIENT);
    await expect.poll(() => page.locator('[data-mark]').count()).toBe(5);
    await goToStep(page, 'Keep');
    await page.locator('.panel-keep .button.primary').tap();
    await page.getByRole('radio', { name: 'ends and photos' }).check({ force: true });
    await page.getByText('Everything kept here is in the log').waitFor();
    await expect
      .poll(async () =>
        (await log.ends()).map(({ arrows, photo }) => [arrows.length, photo !== null]),
      )
      .toEqual([[5, true]]);
    expect(complaints.filter((one) => !toBeExpected(one))).toEqual([]);
    await context.close();
  });

  it('adds a bow, and leaves alone an end that another tab has open', async () => {
    const said = { face: 'wa80', shaftMm: 8.1, distanceM: 50, fletched: 3, bare: 2 };
    const { context, page, complaints } = await visit(await sharedBrowser(), url, PHONE, said);
    await page.goto(`${url}#/set-ups`);
    await page.getByLabel('Name of the bow').fill('The blue one');
    await page.locator('.set-up-form button').last().tap();
    await expect.poll(() => page.locator('main').textContent()).toContain('The blue one');

    await page.goto(url);
    await openReading(page, 'fresh-02');
    const second = await context.newPage();
    await second.goto(url);
    await second.getByRole('heading', { level: 1 }).waitFor();
    const waiting = second.locator('.left-behind');
    await second.waitForTimeout(500);
    expect(await waiting.count()).toBe(0);
    await page.close();
    await second.reload();
    await waiting.waitFor();
    expect(complaints.filter((one) => !toBeExpected(one))).toEqual([]);
    await context.close();
  });
});
