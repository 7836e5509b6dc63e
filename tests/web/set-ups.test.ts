import { expect, inject, it } from 'vitest';
import { standardAdjusters } from '../../src/tuning/bow/standard-adjusters.ts';
import { PHONE, sharedBrowser, visit } from './browser.ts';
import { pagesOf } from './pages-of.ts';

const url = inject('pageUrl');

it('the set-up book renames, deletes with undo, and takes nothing empty', async () => {
  const { context, page, complaints } = await visit(await sharedBrowser(), url, PHONE, {});
  await page.goto(`${url}#/set-ups`);
  await page.getByLabel('Name of the bow').fill('The blu one');
  await page.getByRole('button', { name: 'Add the bow' }).tap();
  await page.getByRole('button', { name: 'Name and plunger' }).tap();
  await page.getByLabel('New name of the bow').fill('The blue one');
  await page.getByRole('radio', { name: 'softer' }).check({ force: true });
  await page.getByRole('button', { name: 'Save the bow' }).tap();
  await page.getByRole('heading', { name: 'The blue one' }).waitFor();

  await page.getByRole('button', { name: 'Write down how it is set' }).tap();
  await page.getByLabel('Name of this set-up').fill('First');
  await page.getByRole('button', { name: 'Write it down' }).tap();
  await page.getByText('Nothing written down yet: give').waitFor();
  await page.getByRole('button', { name: 'More: Brace height' }).tap();
  await page.getByRole('button', { name: 'Write it down' }).tap();
  await page.getByRole('button', { name: 'Delete the set-up First' }).tap();
  await page.getByText('Nothing written down yet.').waitFor();
  await page.getByRole('status').getByRole('button', { name: 'Undo' }).tap();
  await page.locator('.in-use').waitFor();

  await page.getByRole('button', { name: 'Delete the bow The blue one' }).tap();
  await page.getByRole('button', { name: 'Add the bow' }).waitFor();
  await page.getByRole('status').getByRole('button', { name: 'Undo' }).tap();
  await page.getByRole('heading', { name: 'The blue one' }).waitFor();
  expect(await page.locator('.history > li').count()).toBe(1);
  expect(complaints).toEqual([]);
  await context.close();
});

it('leads back to a set-up by a list that remembers, prints alone, and packs for a journey', async () => {
  const { context, page, complaints } = await visit(await sharedBrowser(), url, PHONE, {});
  await page.goto(`${url}#/set-ups`);
  await page.getByLabel('Name of the bow').fill('The blue one');
  await page.getByRole('button', { name: 'Add the bow' }).tap();
  const writeDown = async (name: string, presses: readonly string[]) => {
    await page.getByRole('button', { name: /^Write down (how it is set|a change)/ }).tap();
    await page.getByLabel('Name of this set-up').fill(name);
    for (const press of presses) await page.getByRole('button', { name: press }).tap();
    await page.getByRole('button', { name: 'Write it down' }).tap();
    await page.locator('.history').getByText(name, { exact: true }).waitFor();
  };
  // Every part read: the longest sheet that the usual bow has.
  const parts = standardAdjusters().filter(({ scale }) => scale.type === 'number');
  await writeDown('Spring', ['More: Plunger, mark on the dial', ...parts.map(({ name }) => `More: ${name}`)]); // prettier-ignore
  await writeDown('May', ['More: Brace height', 'More: Nocking point above square']);

  const spring = page.locator('.history > li', { hasText: 'Spring' });
  await spring.getByRole('button', { name: 'How to get back to it' }).tap();
  await expect.poll(() => page.evaluate(() => document.activeElement?.textContent)).toBe('Back to “Spring”'); // prettier-ignore
  const steps = spring.getByRole('checkbox');
  const count = await steps.count();
  expect(count).toBe(6);
  await steps.first().check();
  await steps.nth(2).check();
  await page.reload();
  await spring.getByRole('button', { name: 'How to get back to it' }).tap();
  await page.getByText(`2 of ${count} done`).waitFor();
  expect(await steps.nth(2).isChecked()).toBe(true);

  // Alone, with a box for every step, on one sheet of each size.
  await page.evaluate(() => (window.print = () => {}));
  const alone = page.locator('.print-alone');
  const printed = async (paper: string, boxes: number) => {
    await page.getByLabel('Paper').selectOption(paper);
    await page.getByRole('button', { name: 'Print' }).tap();
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('#app').isVisible()).toBe(false);
    expect(await alone.locator('.boxes li').count()).toBe(boxes);
    expect([paper, pagesOf(await page.pdf({ preferCSSPageSize: true }))]).toEqual([paper, 1]);
    await page.emulateMedia({ media: 'screen' });
    await page.evaluate(() => dispatchEvent(new Event('afterprint')));
    expect(await alone.count()).toBe(0);
  };
  for (const paper of ['A5', 'letter']) await printed(paper, count);
  await page.getByRole('button', { name: 'Done: this set-up is in use' }).tap();
  await page.getByRole('heading', { name: /^Spring/ }).waitFor();
  expect(await page.locator('.in-use').count()).toBe(1);

  await page.getByRole('button', { name: 'Pack for a journey' }).tap();
  await page.getByText('Brace height: still 220 mm?').waitFor();
  await page.getByRole('checkbox', { name: 'Brace height: still' }).check();
  await page.getByText(/^1 of \d+ done$/).waitFor();
  await printed('A5', await page.getByRole('checkbox').count());
  expect(complaints).toEqual([]);
  await context.close();
});
