import { expect, inject, it } from 'vitest';
import { PHONE, sharedBrowser, visit } from './browser.ts';

const url = inject('pageUrl');

it('the set-up book renames, deletes with undo, and takes nothing empty', async () => {
  const { context, page, complaints } = await visit(await sharedBrowser(), url, PHONE, {});
  await page.goto(`${url}#/set-ups`);
  await page.getByLabel('Name of the bow').fill('The blu one');
  await page.getByRole('button', { name: 'Add the bow' }).tap();
  await page.getByRole('button', { name: 'Rename' }).tap();
  await page.getByLabel('New name of the bow').fill('The blue one');
  await page.getByRole('button', { name: 'Save the name' }).tap();
  await page.getByRole('heading', { name: 'The blue one' }).waitFor();

  await page.getByRole('button', { name: 'Write down how it is set' }).tap();
  await page.getByLabel('Name of this set-up').fill('First');
  await page.getByRole('button', { name: 'Write it down' }).tap();
  await page.getByText('Nothing is written down yet').waitFor();
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
