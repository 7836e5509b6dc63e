import { readFileSync } from 'node:fs';
import { zipSync } from 'fflate';
import sharp from 'sharp';
import { afterAll, beforeAll, expect, inject, it } from 'vitest';
import { fillEvening } from './fill-evening.ts';
import { goToStep } from './open-reading.ts';
import type { Settings } from '../../web/state/settings-at-first.ts';
import { stored } from './stored.ts';
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

  // Corrected and kept, it leads back; what the book does not know of its bow is noted.
  await goToStep(page, 'Keep');
  await page.locator('.panel-keep > .primary').click();
  await expect.poll(() => page.url()).toContain('#/evening');
  await expect.poll(() => rows.count()).toBe(1);
  const [kept] = await stored<{ note: string; settings: object }>(page, 'ends');
  expect(kept).toMatchObject({
    note: 'Shot with “soft plunger”.',
    settings: { archer: 'Juna', setUpId: null },
  });
  expect(complaints).toEqual([]);
});

it('takes a photo as the one from before the next, with the bow that the folder names', async () => {
  const { page, complaints } = opened;
  const small = (name: string) =>
    sharp(testImage(`${name}.jpg`))
      .resize({ width: 1200 })
      .jpeg()
      .toBuffer();
  await page.goto(`${inject('pageUrl')}#/set-ups`);
  await page.getByLabel('Name of the bow').fill('Blue');
  await page.getByLabel('Archer').fill('Ilka');
  await page.getByRole('button', { name: 'Add the bow' }).click();
  await page.getByRole('button', { name: 'Write down how it is set' }).click();
  await page.getByRole('button', { name: 'More: Brace height' }).click();
  await page.getByRole('button', { name: 'Write it down' }).click();
  await page.locator('.in-use').waitFor();
  await page.goto(`${inject('pageUrl')}#/evening`);
  const archive = zipSync({
    'Ilka/Blue/1.jpg': new Uint8Array(await small('fresh-02')),
    'Ilka/Blue/2.jpg': new Uint8Array(await small('fresh-02')),
  });
  await page.getByLabel('Choose photos or a zip archive').setInputFiles({
    name: 'evening.zip',
    mimeType: 'application/zip',
    buffer: Buffer.from(archive),
  });
  const rows = page.locator('.evening tbody tr', { hasText: 'Ilka/' });
  await expect.poll(() => rows.count()).toBe(2);
  await page.getByRole('button', { name: 'Ilka/Blue/1.jpg: Before the next' }).click();
  await expect.poll(() => rows.count()).toBe(1);
  await page.getByText('is from before Ilka/Blue/2.jpg').waitFor();
  await expect
    .poll(() => page.getByRole('status').allTextContents(), { timeout: 90_000 })
    .toContainEqual(expect.stringMatching(/of \d need a look$/));
  // Nothing of it is new since the photo from before: that needs a look.
  await expect.poll(() => rows.first().textContent()).toMatch(/marks for 5 arrows/);
  const drafts = await stored<{ settings: Settings }>(page, 'drafts');
  const own = drafts.map(({ settings }) => settings).filter(({ archer }) => archer === 'Ilka');
  expect(own.map(({ setUpId }) => setUpId)).toEqual([expect.any(String)]);
  expect(complaints).toEqual([]);
});

it('joins a photo from the other side to the end before it, from its row', async () => {
  const { page, complaints } = opened;
  // Read already: only the two together are left to be read.
  await fillEvening(page, inject('pageUrl'), { archers: 1, each: 2 });
  const rows = page.locator('.evening tbody tr');
  await expect.poll(() => rows.count()).toBe(2);
  await page.getByRole('button', { name: 'Archer 1/2.jpg: Other side of the last' }).click();
  await page.getByText('Archer 1/2.jpg is joined to Archer 1/1.jpg.').waitFor();
  await expect.poll(() => rows.count()).toBe(1);
  await page.getByRole('link', { name: 'Archer 1/1.jpg' }).click();
  await page.getByText('Read from two photos of this end, joined.').waitFor();
  // The one that the first photo was said to lack is there.
  await page.getByText(/^5 of this end/).waitFor();
  expect(complaints).toEqual([]);
});
