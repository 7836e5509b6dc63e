import type { Page } from 'playwright-core';
import type { Reading } from '../../src/reading/reading.ts';
import type { Words } from '../../src/words/words.ts';
import { fillEvening } from './fill-evening.ts';
import { openReading } from './open-reading.ts';

/** A place of the photo near its lowest mark, which is free. */
const OFF_MARK_PX = 160;

/** As it is when something shows that was not counted, an old hole lies about and a mark near a line. */
export function withEverything(reading: Reading): Reading {
  const [x, y] = reading.marks[0]!.px!;
  return {
    ...reading,
    marks: reading.marks.map((mark, i) => ({
      ...mark,
      ...(i === 1 && { lineCall: { zone: 9, p: 0.3 } }),
      ...(i === 4 && { age: 'old' as const }),
    })),
    uncounted: [
      { spot: 0, mm: [70, -100], px: [x + OFF_MARK_PX, y], sdMm: 1, probability: 0.4 },
      // Too weak to be shown.
      { spot: 0, mm: [-70, -100], px: [x - OFF_MARK_PX, y], sdMm: 1, probability: 0.05 },
    ],
    warnings: ['5 arrows shot, 4 found: one may be hidden or have missed the face.'],
  };
}

/** An end of which nobody said which shafts are bare. */
function untold(reading: Reading): Reading {
  return {
    ...reading,
    marks: reading.marks.map((mark) => ({ ...mark, kind: 'unknown', kindFrom: null })),
  };
}

/** Every screen of the page, by what is written on it; all ends are read beforehand. */
export async function walk(
  page: Page,
  url: string,
  { say, count }: Words,
  see: (screen: string) => Promise<void>,
): Promise<void> {
  // Pressed by keyboard: what a finger would have to scroll to lies under buttons that stay in sight.
  const press = (name: string) =>
    page.getByRole('button', { name, exact: true }).first().press('Enter');
  const step = async (name: string) => {
    await page.locator('.steps').getByRole('button', { name }).press('Enter');
    await page.locator('.steps [aria-current=step]', { hasText: name }).waitFor();
  };
  const keep = async () => {
    await step(say('Keep#step'));
    const kept = page.url();
    await page.locator('.panel-keep > .primary').press('Enter');
    // It leads to the next photo that is open, where there is one.
    await page.waitForURL((address) => address.href !== kept);
    await page.goto(`${url}#/kept`);
    await page.locator('.end-card').first().waitFor();
  };
  await see('home');
  const empty = { mimeType: 'image/jpeg', buffer: Buffer.from('no photo') };
  const photos = page.locator('input[type=file][multiple]');
  await photos.setInputFiles([{ name: 'a.jpg', ...empty }, { name: 'b.jpg', ...empty }]); // prettier-ignore
  await page.locator('.failed').waitFor();
  // Only what was found to be no photo by then is cleared.
  await page.locator('.queue [data-status=failed]').nth(1).waitFor();
  await see('failed');
  await page.locator('.queue-clear').press('Enter');
  await page.locator('.home').waitFor();

  await openReading(page, 'fresh-02', withEverything);
  await see('look');
  await page.locator('[data-mark]').first().focus();
  await see('mark');
  await page.locator('[data-place]').focus();
  await see('place');
  await page.locator('.panel-look details.about > summary').press('Enter');
  await see('about');
  await press(say('Place the face by hand'));
  await see('by-hand');
  await press(say('Back'));
  await step(say('Tag#step'));
  await see('tag');
  await step(say('Verdict'));
  for (const term of await page.locator('.panel-verdict .explain').all()) await term.press('Enter');
  await see('verdict');
  await step(say('Keep#step'));
  await see('keep');
  await keep();
  await page.goto(`${url}#/`);
  await openReading(page, 'fresh-02', untold);
  await step(say('Verdict'));
  await see('verdict-untold');
  await page.goto(`${url}#/`);
  await openReading(page, 'fresh-06');
  await keep();
  await see('kept');
  await page.locator('.end-card-actions button').first().press('Enter');
  await page.getByText(count(1, 'Deleted: {n} end', 'Deleted: {n} ends')).press('Enter');
  await see('deleted');
  await page.locator('.deleted-ends button').press('Enter');
  await page.goto(`${url}#/trends`);
  await page.locator('.trend-plot svg').first().waitFor();
  await see('trends');
  await page.goto(`${url}#/set-ups`);
  await page.getByLabel(say('Name of the bow')).fill('Blau');
  await see('new-bow');
  await press(say('Add the bow'));
  await press(say('Write down how it is set'));
  await page.locator('.set-up-form').waitFor();
  const more = (what: string) => press(say('More: {what}', { what }));
  await more(say('Brace height'));
  await more(say('{name}, lines that show', { name: say('Plunger') }));
  await page.getByLabel(say('medium#spring'), { exact: true }).press(' ');
  await see('set-up-form');
  await press(say('Write it down'));
  await page.locator('.in-use').waitFor();
  await see('bow');
  await press(say('Pack for a journey'));
  await see('journey');
  await press(say('Close'));
  await press(say('How to get back to it'));
  await see('restore');
  await page.goto(`${url}#/end/gone`);
  await page.locator('.empty').waitFor();
  await see('gone');
  await page.goto(`${url}#/evening`);
  await page.locator('.evening h1').waitFor();
  await see('evening');
  await fillEvening(page, url, { archers: 1, each: 2 });
  await page.locator('.evening tbody tr').nth(1).waitFor();
  await see('evening-read');
  await page.goto(`${url}pair?code=AAAA-BBBB`);
  await page.locator('input').waitFor();
  await see('pairing');
}
