import { readFileSync } from 'node:fs';
import type { FileChooser, Locator } from 'playwright-core';
import { expect, inject, it } from 'vitest';
import { readingOfTruth } from '../drawing/reading-of-truth.ts';
import { PHONE, sharedBrowser, testImage, visit } from './browser.ts';
import { placeOf } from './open-reading.ts';

const SAID = { face: 'wa80', shaftMm: 8.1, distanceM: 50, fletched: 3, bare: 2 };

it('goes the whole way by keyboard alone: chosen, read, corrected, tagged, judged, kept', async () => {
  const { context, page, complaints } = await visit(await sharedBrowser(), inject('pageUrl'), PHONE, SAID); // prettier-ignore
  const press = (key: string) => page.keyboard.press(key);
  const marks = page.locator('[data-mark]');
  /** Goes on by Tab, round the page, until this is reached. */
  const tabTo = async (wanted: Locator) => {
    const isThere = () => wanted.evaluate((element) => element === document.activeElement);
    for (let i = 0; i < 90 && !(await isThere()); i++) await press('Tab');
    expect(await isThere(), String(wanted)).toBe(true);
  };

  // The photo comes with its reading: what is found in it is tested elsewhere.
  // Asked for well before the key is pressed: else a busy browser opens a dialog of its own.
  const choosing = new Promise<FileChooser>((resolve) => page.once('filechooser', resolve));
  await tabTo(page.locator('input[type=file][multiple]'));
  await press('Enter');
  const chooser = await choosing;
  const { reading } = readingOfTruth('fresh-02');
  const untold = reading.marks.map((mark) => ({ ...mark, kind: 'unknown', kindFrom: null }));
  await chooser.setFiles([
    {
      name: '1.jpg',
      mimeType: 'image/jpeg',
      buffer: readFileSync(testImage('fresh-02.jpg')),
    },
    {
      name: '1.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify({ ...reading, marks: untold })),
    },
  ]);
  await marks.first().waitFor();

  // Corrected: an arrow key moves a mark, Delete takes it away, and both are undone.
  await tabTo(marks.first());
  const id = (await marks.first().getAttribute('data-mark'))!;
  const from = await placeOf(page, id);
  await press('Shift+ArrowRight');
  await expect.poll(async () => (await placeOf(page, id)).x).toBeGreaterThan(from.x + 1);
  await press('Delete');
  await expect.poll(() => marks.count()).toBe(reading.marks.length - 1);
  await press('Control+z');
  await press('Control+z');
  await expect.poll(() => marks.count()).toBe(reading.marks.length);

  // Tagged, as they were shot.
  for (const mark of reading.marks) {
    await tabTo(page.locator(`[data-mark="${mark.id}"]`));
    await press(mark.kind === 'bare' ? 'b' : 'f');
  }
  await expect.poll(() => page.locator('[data-mark].mark-bare').count()).toBe(2);

  await tabTo(page.locator('.steps').getByRole('button', { name: 'Verdict' }));
  await press('Enter');
  await expect.poll(() => page.locator('.verdict-head').textContent()).toMatch(/low/);
  await tabTo(page.locator('.steps').getByRole('button', { name: 'Keep' }));
  await press('Enter');
  await tabTo(page.locator('.panel-keep > .primary'));
  await press('Enter');
  await page.locator('.end-card').waitFor();
  expect(complaints).toEqual([]);
  await context.close();
});
