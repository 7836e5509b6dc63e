import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import express from 'express';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { listen, type Listening } from '../../server/http/listen.ts';
import { runEndwise } from '../server/cli/run-endwise.ts';
import { PHONE, sharedBrowser, testImage, visit } from './browser.ts';
import { goToStep } from './open-reading.ts';
import { folderPrefix } from '../server/folders-of-runs.ts';

/** Loading the vision module and reading take seconds on an idle machine, minutes on a busy one. */
const PATIENT = { timeout: 240_000 };

const folder = mkdtempSync(folderPrefix());
let space: Listening;

beforeAll(async () => {
  const written = await runEndwise(['site', join(folder, 'site')], folder);
  expect([written.status, written.stderr]).toEqual([0, '']);
  const files = express.static(join(folder, 'site'));
  space = await listen(express().use('/club/bows', files), { host: '127.0.0.1', port: 0 });
});
afterAll(() => rmSync(folder, { recursive: true }));

it('overwrites an earlier site, and no folder of anything else', async () => {
  const again = await runEndwise(['site', join(folder, 'site')], folder);
  expect(again.status).toBe(0);
  writeFileSync(join(folder, 'letter.txt'), 'words');
  const elsewhere = await runEndwise(['site', folder], folder);
  expect([elsewhere.status, elsewhere.stderr]).toEqual([
    2,
    expect.stringContaining('holds other files'),
  ]);
});

it(
  'reads and keeps without the network, from files in a folder of a web space',
  PATIENT,
  async () => {
    const url = `http://localhost:${space.port}/club/bows/`;
    const options = { ...PHONE, serviceWorkers: 'allow' } as const;
    const about = { face: 'wa80', shaftMm: 8.1, distanceM: 50, fletched: 3, bare: 2 };
    const { context, page, complaints } = await visit(await sharedBrowser(), url, options, about);
    await page.getByText('Also reads photos without signal.').waitFor(PATIENT);
    await space.close();
    await context.setOffline(true);
    await page.reload();
    await page.getByRole('heading', { level: 1 }).waitFor();

    await page.locator('input[type=file][multiple]').setInputFiles({
      name: 'end.jpg',
      mimeType: 'image/jpeg',
      buffer: readFileSync(testImage('fresh-02.jpg')),
    });
    await page.locator('[data-mark]').first().waitFor(PATIENT);
    expect(await page.locator('[data-mark]').count()).toBe(5);
    await goToStep(page, 'Keep');
    await page.locator('.panel-keep .button.primary').tap();
    await page.getByRole('heading', { name: 'Kept ends' }).waitFor();
    // There is no log here to hand it to.
    expect(await page.getByText('Log on the server').count()).toBe(0);
    expect(complaints).toEqual([]);
    await context.close();
  },
);
