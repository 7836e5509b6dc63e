import axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { beforeAll, describe, expect, inject, it } from 'vitest';
import { DESK, PHONE, sharedBrowser, visit } from './browser.ts';
import { goToStep, openReading } from './open-reading.ts';

const url = inject('pageUrl');
const ABOUT = { face: 'wa80', shaftMm: 8.1, distanceM: 50 };

let browser: Browser;
beforeAll(async () => {
  browser = await sharedBrowser();
});

/** What axe-core objects to, by rule and place. */
async function objections(page: Page, rules?: string[]): Promise<string[]> {
  await page.evaluate(axe.source);
  return page.evaluate(async (only) => {
    const found = await (window as unknown as { axe: typeof axe }).axe.run(
      document,
      only ? { runOnly: { type: 'rule', values: only } } : {},
    );
    return found.violations.flatMap((violation) =>
      violation.nodes.map((node) => `${violation.id}: ${node.target.join(' ')}`),
    );
  }, rules);
}

describe('the page', () => {
  it('has no fault that axe-core knows, on a phone', async () => {
    const { context, page } = await visit(browser, url, PHONE, ABOUT);
    const seen: Record<string, string[]> = {};
    seen.home = await objections(page);
    await openReading(page, 'fresh-02');
    await page.locator('[data-mark]').first().focus();
    await page.locator('.selected').waitFor();
    seen.look = await objections(page);
    await goToStep(page, 'Verdict');
    seen.verdict = await objections(page);
    // Themes differ in colours alone.
    for (const theme of ['dark', 'daylight']) {
      await page.evaluate((name) => (document.documentElement.dataset.theme = name), theme);
      seen[`verdict, ${theme}`] = await objections(page, ['color-contrast']);
    }
    await goToStep(page, 'Keep');
    seen.keep = await objections(page);
    await page.locator('.panel-keep .button.primary').click();
    await page.locator('.end-card').waitFor();
    seen.kept = await objections(page);
    await page.goto(`${url}#/trends`);
    await page.locator('.trend-plot svg').first().waitFor();
    seen.trends = await objections(page);
    await page.goto(`${url}#/set-ups`);
    await page.getByRole('textbox', { name: 'Name of the bow' }).fill('The blue one');
    await page.getByRole('button', { name: 'Add the bow' }).click();
    await page.getByRole('button', { name: 'Write down how it is set' }).click();
    await page.locator('.set-up-form').waitFor();
    seen.setUps = await objections(page);
    expect(seen).toEqual(Object.fromEntries(Object.keys(seen).map((key) => [key, []])));
    await context.close();
  });

  it('has no fault that axe-core knows, on a desktop with all panels open', async () => {
    const { context, page } = await visit(browser, url, DESK, ABOUT);
    const home = await objections(page);
    await openReading(page, 'fresh-02');
    await page.locator('[data-mark]').first().focus();
    await page.locator('.selected').waitFor();
    expect([...home, ...(await objections(page))]).toEqual([]);
    await context.close();
  });
});
