import { mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, describe, expect, it } from 'vitest';
import { appOfTests } from '../server/http/app-of-tests.ts';
import { listen } from '../../server/http/listen.ts';
import { Log } from '../../server/log/log.ts';
import { DESK, PHONE, sharedBrowser, visit } from './browser.ts';
import { goToStep, openReading, sayHand } from './open-reading.ts';
import { folderPrefix } from '../server/folders-of-runs.ts';

const folder = mkdtempSync(folderPrefix());
const closing: (() => Promise<void>)[] = [];
afterAll(async () => {
  for (const close of closing) await close();
  rmSync(folder, { recursive: true });
});

async function serverWithLog(name: string) {
  const log = await Log.open(join(folder, name));
  const app = appOfTests({
    webFolder: fileURLToPath(new URL('../../dist/web/', import.meta.url)),
    uploadFolder: folder,
    log,
  });
  const server = await listen(app, { host: '127.0.0.1', port: 0 });
  closing.push(server.close, () => log.close());
  const { url } = server;
  const names = async () => (await log.bows()).map((bow) => bow.name).sort();
  return { log, url, names };
}

const press = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).click();

/** Lets a device reach the log, or not: the page itself is there in any case. */
async function reach(context: BrowserContext, can: boolean): Promise<void> {
  const log = '**/api/log/**';
  if (can) await context.unroute(log);
  else await context.route(log, (route) => route.abort());
}

async function rename(page: Page, name: string): Promise<void> {
  await press(page, 'Name and plunger');
  await page.getByLabel('New name of the bow').fill(name);
  await press(page, 'Save the bow');
}

describe('the set-up book of two devices and the log', () => {
  it('is one book: written down, renamed, corrected, archived and deleted on either', async () => {
    const { log, url, names } = await serverWithLog('one');
    const browser = await sharedBrowser();
    const phone = await visit(browser, url, PHONE);
    const laptop = await visit(browser, url, DESK);
    const seeOnLaptop = async (words: string) => {
      await laptop.page.goto(`${url}#/set-ups`);
      await laptop.page.reload();
      await laptop.page.getByText(words).first().waitFor();
    };
    // At once, without an end.
    await phone.page.goto(`${url}#/set-ups`);
    await phone.page.getByLabel('Name of the bow').fill('The blu one');
    await phone.page.getByLabel('Archer').fill('Tomás Ferro');
    await sayHand(phone.page);
    await press(phone.page, 'Add the bow');
    await press(phone.page, 'Write down how it is set');
    await phone.page.getByLabel('Name of this set-up').fill('First');
    await press(phone.page, 'More: Brace height');
    await press(phone.page, 'Write it down');
    await expect.poll(async () => (await log.setUps()).map(({ name }) => name)).toEqual(['First']);
    expect((await log.archers()).map(({ name }) => name)).toEqual(['Tomás Ferro']);
    await seeOnLaptop('The blu one');
    await laptop.page.getByText('Tomás Ferro · right-handed').waitFor();

    await rename(phone.page, 'The blue one');
    await expect.poll(names).toEqual(['The blue one']);
    await seeOnLaptop('The blue one');

    // A correction made without a connection waits, and says so.
    await reach(phone.context, false);
    await press(phone.page, 'Correct what is written');
    await phone.page.getByLabel('Note').fill('measured cold');
    await press(phone.page, 'Save the correction');
    await phone.page.goto(`${url}#/kept`);
    await phone.page.getByText(/^1 change of the set-up book waits until/).waitFor();
    await reach(phone.context, true);
    await phone.page.evaluate(() => dispatchEvent(new Event('online')));
    await expect.poll(async () => (await log.setUps())[0]!.notes).toBe('measured cold');
    await seeOnLaptop('measured cold');

    // What nothing was shot with can be deleted, with undo.
    await press(laptop.page, 'Delete the set-up First');
    await expect.poll(async () => (await log.setUps()).length).toBe(0);
    await laptop.page.getByRole('status').getByRole('button', { name: 'Undo' }).click();
    await expect.poll(async () => (await log.setUps()).length).toBe(1);

    // With an end shot, it is archived instead, and taken back.
    await shootWithIt(laptop.page, url);
    await goToStep(laptop.page, 'Keep');
    await laptop.page.locator('.panel-keep').getByLabel('Archer').fill('tomás ferro');
    await laptop.page.locator('.panel-keep .button.primary').click();
    await laptop.page.getByText('Everything kept here is in the log').waitFor();
    // 'Everything' may have been said of the book, a moment before the end was kept.
    await expect.poll(async () => (await log.ends()).length).toBe(1);
    expect((await log.archers()).length).toBe(1);
    expect((await log.ends())[0]!.setUpId).toBe((await log.setUps())[0]!.id);
    await seeOnLaptop('measured cold');
    await press(laptop.page, 'Archive the set-up First');
    await expect.poll(async () => (await log.setUps())[0]!.archived).toBe(true);
    // The phone, where nothing was shot with the bow, deletes it: the log tells that it must not go.
    await phone.page.goto(`${url}#/set-ups`);
    await phone.page.getByText('Archived: 1 set-up').waitFor();
    await press(phone.page, 'Delete the bow The blue one');
    await phone.page.getByText('was shot with on another device').waitFor();
    await phone.page.getByText('Archived: 1 bow').waitFor();
    expect(await names()).toEqual(['The blue one']);
    expect((await log.ends()).length).toBe(1);
    const unexpected = (one: string) => !/409|ERR_FAILED/.test(one);
    expect([...phone.complaints, ...laptop.complaints].filter(unexpected)).toEqual([]);
    await phone.context.close();
    await laptop.context.close();
  });

  it('shows what both have changed, and a person chooses', async () => {
    const { log, url, names } = await serverWithLog('both');
    const { context, page } = await visit(await sharedBrowser(), url, PHONE);
    await page.goto(`${url}#/set-ups`);
    await page.getByLabel('Name of the bow').fill('Mine');
    await page.getByLabel('Archer').fill('Ilka Brandt');
    await sayHand(page);
    await press(page, 'Add the bow');
    await expect.poll(names).toContain('Mine');
    const bow = (await log.bows()).find(({ name }) => name === 'Mine')!;

    await reach(context, false);
    await rename(page, 'Mine at home');
    await log.putBow({ ...bow, name: 'Mine at the club' });
    await reach(context, true);
    await page.reload();
    await page.getByText('Another device changed “Mine at home” too').waitFor();
    await page.getByText('it is called “Mine at the club”').waitFor();
    expect(await names()).toContain('Mine at the club');
    await press(page, 'Take the other one');
    await page.getByRole('heading', { name: 'Mine at the club' }).waitFor();
    expect(await names()).toContain('Mine at the club');

    await reach(context, false);
    await rename(page, 'Mine at last');
    await log.putBow({ ...bow, name: 'Mine at the range' });
    await reach(context, true);
    await page.reload();
    await press(page, 'Keep this one');
    await expect.poll(names).toContain('Mine at last');
    await expect.poll(() => page.locator('.book-conflict').count()).toBe(0);

    await reach(context, false);
    await rename(page, 'Mine alone');
    await log.deleteBow(bow.id);
    await reach(context, true);
    await page.reload();
    await page.getByText('“Mine alone” was deleted on another device.').waitFor();
    await press(page, 'Put it back into the log');
    await expect.poll(names).toContain('Mine alone');
    await log.deleteBow(bow.id);
    await page.reload();
    await press(page, 'Delete it here too');
    await expect.poll(() => page.getByRole('heading', { name: 'Mine alone' }).count()).toBe(0);
    expect(await log.bows()).toEqual([]);

    // Another log under the same address takes nothing from the book.
    await page.getByLabel('Name of the bow').fill('Mine again');
    await sayHand(page);
    await press(page, 'Add the bow');
    await expect.poll(names).toEqual(['Mine again']);
    await log.deleteArcher((await log.archers())[0]!.id);
    await page.reload();
    await page.getByText('“Mine again” was deleted on another device.').waitFor();
    await press(page, 'Put it back into the log');
    await expect.poll(names).toEqual(['Mine again']);
    await context.close();
  });
});

async function shootWithIt(page: Page, url: string): Promise<void> {
  await press(page, 'Use for next ends');
  await page.goto(`${url}#/`);
  await openReading(page, 'fresh-02');
}
