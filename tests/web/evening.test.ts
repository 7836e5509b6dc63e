import { readFileSync } from 'node:fs';
import { zipSync } from 'fflate';
import sharp from 'sharp';
import { afterAll, beforeAll, expect, inject, it } from 'vitest';
import { DESK, sharedBrowser, testImage, visit, type Opened } from './browser.ts';

let opened: Opened;
beforeAll(async () => {
  opened = await visit(await sharedBrowser(), inject('pageUrl'), DESK, {
    archer: '',
    face: 'wa80',
  });
});
afterAll(() => opened.context.close());

it('reads an archive of photos, those that need a look first, each a click from its correction', async () => {
  const { page, complaints } = opened;
  await page.getByRole('link', { name: 'Evening' }).click();
  const photo = await sharp(testImage('fresh-02.jpg')).resize({ width: 1200 }).jpeg().toBuffer();
  const archive = zipSync({
    'Juna/soft plunger/1.jpg': new Uint8Array(photo),
    'Ravi/2.jpg': new TextEncoder().encode('no photo'),
    'notes.txt': new TextEncoder().encode('words'),
  });
  await page.getByLabel('Choose photos or a zip archive').setInputFiles({
    name: 'evening.zip',
    mimeType: 'application/zip',
    buffer: Buffer.from(archive),
  });
  await expect.poll(() => page.locator('.notice').textContent()).toContain('left out: 1.');
  const rows = page.locator('.evening tbody tr');
  await expect.poll(() => rows.count()).toBe(2);
  await expect
    .poll(() => page.getByRole('status').allTextContents(), { timeout: 90_000 })
    .toContainEqual(expect.stringMatching(/of 2 need a look$/));
  await expect.poll(() => rows.first().textContent()).toMatch(/Ravi\/2\.jpg.*not a photo/);
  await expect
    .poll(() => page.getByLabel('Archer of Juna/soft plunger/1.jpg').inputValue())
    .toBe('Juna');

  const csv = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Table (CSV)' }).click();
  const table = readFileSync(await (await csv).path(), 'utf8');
  expect(table).toMatch(/\r\nJuna\/soft plunger\/1\.jpg,Juna,soft plunger,1,1,/);

  const sheets = opened.context.waitForEvent('page');
  await page.getByRole('button', { name: 'Sheets to print' }).click();
  const printed = await sheets;
  await expect
    .poll(() => printed.locator('h1').allTextContents())
    .toEqual(['Squad', 'Ravi', 'Juna']);
  await printed.close();

  await page.getByRole('link', { name: 'Juna/soft plunger/1.jpg' }).click();
  await expect.poll(() => page.url()).toContain('#/end/');
  expect(complaints).toEqual([]);
});
