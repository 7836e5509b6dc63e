import { mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, inject, it } from 'vitest';
import { exportLog } from '../../server/log/export-log.ts';
import { Log } from '../../server/log/log.ts';
import { takeArchiveIn } from '../../server/log/take-archive-in.ts';
import { keptEndSchema, type KeptEnd } from '../../web/store/kept-end.ts';
import { PHONE, sharedBrowser, visit } from './browser.ts';
import { goToStep, openReading } from './open-reading.ts';
import { stored } from './stored.ts';
import { folderPrefix } from '../server/folders-of-runs.ts';

const url = inject('pageUrl');
const folder = mkdtempSync(folderPrefix());
afterAll(() => rmSync(folder, { recursive: true }));

it('copies everything into a file that a log and another device take in, and back', async () => {
  const browser = await sharedBrowser();
  const said = { face: 'wa80', shaftMm: 8.1, distanceM: 50 };
  const { context, page, complaints } = await visit(browser, url, PHONE, said);
  await page.goto(`${url}#/set-ups`);
  await page.getByLabel('Name of the bow').fill('The blue one');
  await page.getByRole('button', { name: 'Add the bow' }).tap();
  await page.getByRole('button', { name: 'Write down how it is set' }).tap();
  await page.getByRole('button', { name: 'More: Brace height' }).tap();
  await page.getByRole('button', { name: 'Write it down' }).tap();
  await page.locator('.in-use').waitFor();
  // The same photo once for each of two archers, who shoot one bow.
  for (const archer of ['Juna Feldweg', 'Tomás Ferro']) {
    await page.goto(`${url}#/`);
    await openReading(page, 'fresh-02');
    await goToStep(page, 'Keep');
    await page.locator('.panel-keep').getByLabel('Archer').fill(archer);
    await page.locator('.panel-keep .button.primary').tap();
    await page.locator('.end-card').first().waitFor();
  }
  await page.getByText('Never copied yet.').waitFor();
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Copy all into a file' }).tap();
  const ofPage = join(folder, 'page.zip');
  await (await download).saveAs(ofPage);
  await page.getByText('Copied: 2 ends with 2 photos.').waitFor();
  await page.getByText(/^Last copied on .* No end was kept since\.$/).waitFor();
  const before = await stored<KeptEnd>(page, 'ends');

  // Into a log, as the command line does it, and out of it again.
  const log = await Log.open(join(folder, 'log'));
  expect(await takeArchiveIn(log, ofPage)).toEqual({ ends: 2, photos: 2 });
  const whole = await log.everything();
  expect(whole.archers.map(({ name }) => name).sort()).toEqual(['Juna Feldweg', 'Tomás Ferro']);
  expect(new Set(whole.bows.map(({ name }) => name))).toEqual(new Set(['The blue one']));
  expect(whole.ends.map(({ arrows }) => arrows.length)).toEqual([5, 5]);
  const ofLog = join(folder, 'log.zip');
  await exportLog(log, ofLog);
  await log.close();

  const take = async (file: string, words: RegExp) => {
    const other = await visit(browser, url, PHONE, {});
    await other.page.goto(`${url}#/kept`);
    await other.page.getByLabel('Take a copy in').setInputFiles(file);
    await other.page.getByText(words).waitFor();
    expect(await other.page.locator('.end-card').count()).toBe(2);
    return other;
  };
  const second = await take(ofPage, /^Taken in: 2 ends, 1 set-up\.$/);
  const own = (end: KeptEnd) => {
    const { id, note, reading, marks, settings } = keptEndSchema.parse(end);
    return { id, note, reading, marks, settings };
  };
  expect((await stored<KeptEnd>(second.page, 'ends')).map(own)).toEqual(before.map(own));
  await second.page.getByLabel('Take a copy in').setInputFiles(ofPage);
  await second.page.getByText('2 ends were here already.').waitFor();
  await second.page.getByLabel('Take a copy in').setInputFiles({
    name: 'other.zip',
    mimeType: 'application/zip',
    buffer: Buffer.from('PK'),
  });
  await second.page.getByText('The file is no copy of endwise').waitFor();
  await second.context.close();

  // The log's archive has no rings: they are found when an end is opened, and its arrows placed.
  const third = await take(ofLog, /^Taken in: 2 ends, 2 set-ups\.$/);
  const [card] = await third.page.locator('.end-card-words').allTextContents();
  expect(card).toContain(String(before[0]!.reading.score.total));
  await third.page.locator('.end-card > a').first().tap();
  await third.page.locator('.verdict-head').waitFor({ timeout: 90_000 });
  await goToStep(third.page, 'Look');
  const opened = (await stored<KeptEnd>(third.page, 'ends'))[0]!;
  expect(await third.page.locator('[data-mark]:not(.mark-old)').count()).toBe(
    opened.reading.marks.length,
  );
  expect([...complaints, ...third.complaints]).toEqual([]);
  await third.context.close();
  await context.close();
});
