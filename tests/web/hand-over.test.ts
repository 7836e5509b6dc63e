import { mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { afterAll, describe, expect, it } from 'vitest';
import { appOfTests } from '../server/http/app-of-tests.ts';
import { listen } from '../../server/http/listen.ts';
import { Log } from '../../server/log/log.ts';
import { LogError } from '../../server/log/log-error.ts';
import { PHONE, sharedBrowser, visit } from './browser.ts';
import { goToStep, openReading, sayHand } from './open-reading.ts';
import { stored } from './stored.ts';
import type { KeptEnd } from '../../web/store/database.ts';
import { folderPrefix } from '../server/folders-of-runs.ts';

const folder = mkdtempSync(folderPrefix());
const closing: (() => Promise<void>)[] = [];
afterAll(async () => {
  for (const close of closing) await close();
  rmSync(folder, { recursive: true });
});

async function serverWith(log: Log): Promise<string> {
  const app = appOfTests({
    webFolder: fileURLToPath(new URL('../../dist/web/', import.meta.url)),
    uploadFolder: folder,
    log,
  });
  const server = await listen(app, { host: '127.0.0.1', port: 0 });
  closing.push(server.close, () => log.close());
  return server.url;
}

async function keepOne(page: Page, archer: string): Promise<void> {
  await openReading(page, 'fresh-02');
  await goToStep(page, 'Keep');
  await page.locator('.panel-keep').getByLabel('Archer').fill(archer);
  await sayHand(page.locator('.panel-keep'));
  await page.locator('.panel-keep .button.primary').tap();
  await page.locator('.end-card').waitFor();
}

describe('handing kept ends over to the log', { timeout: 120_000 }, () => {
  it('says that its disk is full, keeps the end, and hands it over once there is room', async () => {
    const log = await Log.open(join(folder, 'full'));
    const url = await serverWith(log);
    const putEnd = log.putEnd.bind(log);
    log.putEnd = () =>
      Promise.reject(new LogError('disk-full', 'The disk is full: make room and keep it again.'));
    const { context, page } = await visit(await sharedBrowser(), url, PHONE);
    await keepOne(page, 'Ilka Brandt');
    const said = page.locator('.hand-over [role=status]');
    await expect
      .poll(() => said.textContent())
      .toMatch(/^1 end waits and stays here meanwhile\. .* says: The disk is full: make room/);
    expect(await stored(page, 'ends')).toHaveLength(1);
    expect(await log.ends()).toEqual([]);

    log.putEnd = putEnd;
    await page.reload();
    await page.getByText('Everything kept here is in the log').waitFor();
    await expect.poll(async () => (await log.ends()).length).toBe(1);
    await context.close();
  });

  it('takes ends of two archers who shoot one bow, each with that bow of their own', async () => {
    const log = await Log.open(join(folder, 'shared'));
    const url = await serverWith(log);
    const { context, page, complaints } = await visit(await sharedBrowser(), url, PHONE);
    await page.goto(`${url}#/set-ups`);
    await page.getByLabel('Name of the bow').fill('The blue one');
    await page.getByLabel('Archer').fill('Ilka Brandt');
    await sayHand(page);
    await page.getByRole('button', { name: 'Add the bow' }).tap();
    await page.getByRole('button', { name: 'Write down how it is set' }).tap();
    await page.getByLabel('Name of this set-up').fill('First');
    await page.getByRole('button', { name: 'More: Brace height' }).tap();
    await page.getByRole('button', { name: 'Write it down' }).tap();
    await page.locator('.in-use').waitFor();
    for (const [archer, photo] of [
      ['Ilka Brandt', 'fresh-02'],
      ['Tomás Ferro', 'fresh-06'],
    ] as const) {
      await page.goto(`${url}#/`);
      await openReading(page, photo);
      await goToStep(page, 'Keep');
      await page.locator('.panel-keep').getByLabel('Archer').fill(archer);
      await page.locator('.panel-keep .button.primary').tap();
      await page.getByText('Everything kept here is in the log').waitFor();
    }
    // What was said of the first end may still stand there when the second is kept.
    await expect.poll(async () => (await log.ends()).length).toBe(2);
    const { archers, bows, sessions, ends } = await log.everything();
    expect(archers.map(({ name }) => name)).toEqual(['Ilka Brandt', 'Tomás Ferro']);
    expect(bows.map(({ name }) => name)).toEqual(['The blue one', 'The blue one']);
    expect(new Set(bows.map(({ archerId }) => archerId)).size).toBe(2);
    const bowOf = new Map(sessions.map(({ archerId, bowId }) => [archerId, bowId]));
    for (const bow of bows) expect(bowOf.get(bow.archerId)).toBe(bow.id);
    expect(ends).toHaveLength(2);

    // Corrected: shot with no set-up that is written down. It changes nothing for the next ends.
    const said = () => page.evaluate(() => localStorage.getItem('endwise.settings'));
    const before = await said();
    await page.goto(`${url}#/kept`);
    await page.getByRole('link', { name: /^Correct the end of Ilka/ }).tap();
    await page.locator('.verdict-head').waitFor();
    await goToStep(page, 'Keep');
    await page.locator('.panel-keep').getByLabel('Set-up').selectOption('');
    await page.locator('.panel-keep .button.primary').tap();
    await expect
      .poll(async () => (await log.ends()).filter(({ setUpId }) => /-unwritten$/.test(setUpId)))
      .toHaveLength(1);
    expect(await said()).toBe(before);
    // The browser notes that the log did not know the corrected end's session until it was sent.
    expect(complaints.filter((one) => !one.includes('404'))).toEqual([]);
    await context.close();
  });

  it('deletes an end here and in the log, and brings it back to both', async () => {
    const log = await Log.open(join(folder, 'deleted'));
    const url = await serverWith(log);
    const { context, page, complaints } = await visit(await sharedBrowser(), url, PHONE);
    await keepOne(page, 'Ilka Brandt');
    await page.getByText('Everything kept here is in the log').waitFor();
    await expect.poll(async () => (await log.ends()).length).toBe(1);
    await page.getByRole('button', { name: /^Delete the end of Ilka Brandt/ }).tap();
    await page.getByRole('heading', { name: 'No ends kept yet' }).waitFor();
    await expect.poll(async () => (await log.ends()).length).toBe(0);
    expect(await log.sessions()).toEqual([]);
    await page.getByRole('status').getByRole('button', { name: 'Undo' }).tap();
    await page.locator('.end-card').waitFor();
    await expect.poll(async () => (await log.ends()).length).toBe(1);

    // Later, without the notice, and with its photo.
    await page.getByRole('button', { name: /^Delete the end of/ }).tap();
    await expect.poll(async () => (await log.ends()).length).toBe(0);
    await page.reload();
    await page.getByText('Deleted: 1 end').tap();
    await page.getByRole('button', { name: /^Put back: Ilka Brandt/ }).tap();
    await expect.poll(async () => (await log.ends())[0]?.photo ?? null).not.toBeNull();
    await page.locator('.end-card > a').tap();
    await page.locator('.verdict-head').waitFor();
    await goToStep(page, 'Look');
    await expect.poll(() => page.locator('[data-mark]').count()).toBe(5);
    // A page that is loaded anew before it noted a deletion asks for it again, and is told 404.
    expect(complaints.filter((one) => !one.includes('404'))).toEqual([]);
    await context.close();
  });

  it('overwrites nothing that was changed elsewhere: a person chooses', async () => {
    const log = await Log.open(join(folder, 'changed'));
    const url = await serverWith(log);
    const { context, page } = await visit(await sharedBrowser(), url, PHONE);
    await keepOne(page, 'Ilka Brandt');
    await page.getByText('Everything kept here is in the log').waitFor();
    await expect.poll(async () => (await log.ends()).length).toBe(1);
    const [end] = await log.ends();
    await log.putEnd({ ...end!, notes: 'said on the laptop' });

    const correct = async (note: string) => {
      await page.getByRole('link', { name: /^Correct the end of/ }).tap();
      await page.locator('.verdict-head').waitFor();
      await goToStep(page, 'Keep');
      await page.locator('.panel-keep').getByLabel('Note').fill(note);
      await page.locator('.panel-keep .button.primary').tap();
      await page.locator('.end-card').waitFor();
    };
    await correct('said on the phone');
    await page.getByText('Another device changed it too').waitFor();
    expect((await log.end(end!.id)).notes).toBe('said on the laptop');
    await page.getByRole('button', { name: 'Put this one into the log' }).tap();
    await expect.poll(async () => (await log.end(end!.id)).notes).toBe('said on the phone');
    await expect.poll(() => page.locator('.end-card-conflict').count()).toBe(0);

    // The other one taken: its note, tags and distance are here then.
    const there = await log.end(end!.id);
    const session = (await log.sessions()).find(({ id }) => id === there.sessionId)!;
    const from40 = { ...session, id: `${session.id}-40m`, distanceM: 40 };
    await log.putSession(from40);
    const [bare, ...others] = there.arrows.filter(({ kind }) => kind === 'bare');
    const arrows = [
      ...there.arrows.filter((arrow) => arrow !== bare && !others.includes(arrow)),
      { ...bare!, kind: 'fletched' as const },
    ];
    await log.putEnd({ ...there, sessionId: from40.id, arrows, notes: 'said on the laptop again' });
    await correct('said on the phone again');
    await page.getByRole('button', { name: 'Take the other one' }).tap();
    await page.getByText('Taken over from the log.').waitFor();
    await expect.poll(() => page.locator('.end-card-words').textContent()).toContain('40 m');
    const [taken] = await stored<KeptEnd>(page, 'ends');
    expect(taken).toMatchObject({ note: 'said on the laptop again', conflict: null });
    expect(taken!.reading.marks.map(({ id, kind }) => [id, kind]).sort()).toEqual(
      arrows.map(({ id, kind }) => [id, kind]).sort(),
    );
    expect(taken!.sentRevision).toBe(taken!.revision);

    await log.deleteEnd(end!.id);
    await correct('said later');
    await page.getByText('Deleted from the log on another device').waitFor();
    expect(await log.ends()).toEqual([]);
    await page.getByRole('button', { name: 'Put it back into the log' }).tap();
    await expect.poll(async () => (await log.ends())[0]?.notes).toBe('said later');
    await context.close();
  });
});
