import { expect, inject, it } from 'vitest';
import { PHONE, sharedBrowser, visit } from './browser.ts';
import { goToStep, openReading } from './open-reading.ts';

const url = inject('pageUrl');

it('nothing is wider than a phone of 320 px', { timeout: 120_000 }, async () => {
  const small = { ...PHONE, viewport: { width: 320, height: 640 } };
  const said = { face: 'wa80', shaftMm: 8.1, distanceM: 50 };
  const { context, page } = await visit(await sharedBrowser(), url, small, said);
  const widths: Record<string, number> = {};
  const measure = async (name: string) => {
    widths[name] = await page.evaluate(() => document.documentElement.scrollWidth);
  };
  await measure('home');
  await openReading(page, 'fresh-02');
  await measure('look');
  for (const step of ['Tag', 'Verdict', 'Keep'] as const) {
    await goToStep(page, step);
    await measure(step);
  }
  await page.locator('.panel-keep .button.primary').tap();
  await page.locator('.end-card').waitFor();
  await measure('kept');
  await page.getByRole('button', { name: /^Delete the end/ }).tap();
  await page.getByText('Deleted: 1 end').tap();
  await measure('deleted');
  await page.getByRole('button', { name: /^Put back/ }).tap();
  await page.goto(`${url}#/trends`);
  await page.locator('.trend-plot svg').first().waitFor();
  await measure('trends');
  await page.goto(`${url}#/set-ups`);
  await page.getByLabel('Name of the bow').fill('The blue one');
  await measure('new bow');
  await page.getByRole('button', { name: 'Add the bow' }).tap();
  await page.getByRole('button', { name: 'Write down how it is set' }).tap();
  await page.locator('.set-up-form').waitFor();
  await measure('set-up form');
  await page.goto(`${url}pair?code=AAAA-BBBB`);
  await measure('pairing');
  expect(Object.entries(widths).filter(([, width]) => width > 320)).toEqual([]);
  await context.close();
});
