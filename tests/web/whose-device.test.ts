import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { appOfTests } from '../server/http/app-of-tests.ts';
import { fromTheNetwork } from '../server/http/from-the-network.ts';
import { fillSample, sampleEnd } from '../server/log/sample-log.ts';
import { listen, type Listening } from '../../server/http/listen.ts';
import type { Holder } from '../../server/log/device-store.ts';
import { Log } from '../../server/log/log.ts';
import { COMMAND_LINE } from '../../server/log/trail.ts';
import { PHONE, sharedBrowser, visit } from './browser.ts';
import { folderPrefix } from '../server/folders-of-runs.ts';

const folder = mkdtempSync(folderPrefix());
let log: Log;
let server: Listening;

beforeAll(async () => {
  log = await Log.open(folder);
  await fillSample(log);
  await log.putEnd(sampleEnd('ilka', 1));
  const app = appOfTests({
    webFolder: fileURLToPath(new URL('../../dist/web/', import.meta.url)),
    uploadFolder: folder,
    log,
  });
  server = await listen(fromTheNetwork(app), { host: '127.0.0.1', port: 0 });
});
afterAll(async () => {
  await server.close();
  await log.close();
  rmSync(folder, { recursive: true });
});

async function pairedPage(holder: Holder) {
  const opened = await visit(await sharedBrowser(), server.url, PHONE, {});
  const { token } = (await log.devices.pair(await log.devices.newCode(holder)))!;
  await opened.context.addCookies([{ name: 'endwise', value: token, url: server.url }]);
  await opened.page.goto(`${server.url}#/kept`);
  return { ...opened, panel: opened.page.locator('.this-device') };
}

describe('what a paired device is told that it may do', () => {
  it("lets a coach pair devices of their archers, and take nobody's record along", async () => {
    await log.coaches.put({ id: 'marta', name: 'Marta Quell', archerIds: ['tomas'] }, COMMAND_LINE);
    const { context, page, panel, complaints } = await pairedPage({ role: 'coach', coachId: 'marta' }); // prettier-ignore
    await panel.getByText('It is paired for the coach Marta Quell').waitFor();
    expect(await panel.getByRole('link').count()).toBe(0);
    expect(await panel.locator('option').allTextContents()).toEqual(['Tomás Ferro']);
    await panel.getByRole('button', { name: 'Show a code' }).tap();
    const said = panel.getByRole('status').getByText(/pairs one device within 15 minutes/);
    const code = /[A-Z0-9]{4}-[A-Z0-9]{4}/.exec((await said.textContent())!)![0];
    expect((await log.devices.pair(code))!.holder).toEqual({ role: 'archer', archerId: 'tomas' });
    expect(complaints).toEqual([]);
    await page.close();
    await context.close();
  });

  it('lets a keeper say who coaches whom, and pair the devices of coaches', async () => {
    const { context, panel, complaints } = await pairedPage({ role: 'keeper' });
    await panel.getByText('It is paired for whoever keeps the log').waitFor();
    await panel.getByText('Who coaches whom').tap();
    await panel.getByLabel('Name of the coach').fill('Odo Kern');
    await panel.getByRole('button', { name: 'Add the coach' }).tap();
    await panel.getByRole('group', { name: 'Odo Kern coaches' }).getByText('Tomás Ferro').tap();
    const coached = async () => (await log.coaches.coaches()).find(({ name }) => name === 'Odo Kern')?.archerIds; // prettier-ignore
    await expect.poll(coached).toEqual(['tomas']);
    await panel.getByLabel('Pair a device of').selectOption('Odo Kern, coach');
    await panel.getByRole('button', { name: 'Show a code' }).tap();
    const said = panel.getByRole('status').getByText(/pairs one device within 15 minutes/);
    const code = /[A-Z0-9]{4}-[A-Z0-9]{4}/.exec((await said.textContent())!)![0];
    const { token, holder } = (await log.devices.pair(code))!;
    expect(holder).toMatchObject({ role: 'coach' });
    const odo = panel.getByRole('group', { name: 'Odo Kern coaches' });
    await odo.getByRole('button', { name: 'Delete Odo Kern' }).tap();
    await odo.getByText('The archers stay in the log').waitFor();
    await odo.getByRole('button', { name: 'Keep Odo Kern' }).tap();
    expect(await coached()).toEqual(['tomas']);
    await odo.getByRole('button', { name: 'Delete Odo Kern' }).tap();
    await odo.getByRole('button', { name: 'Delete it for good' }).tap();
    await odo.waitFor({ state: 'detached' });
    expect(await coached()).toBeUndefined();
    expect(await log.devices.grantOf(token)).toBeNull();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('lets an archer take their record along and delete it, by two presses', async () => {
    const { context, page, panel, complaints } = await pairedPage({ role: 'archer', archerId: 'ilka' }); // prettier-ignore
    await panel.getByText('It is paired for Ilka Brandt').waitFor();
    expect(await panel.getByRole('button', { name: 'Show a code' }).count()).toBe(0);
    const coming = page.waitForEvent('download');
    await panel.getByRole('link', { name: 'Take my record along' }).tap();
    const download = await coming;
    const bytes = readFileSync(await download.path());
    expect(bytes.subarray(0, 2).toString()).toBe('PK');
    await panel.getByRole('button', { name: 'Delete my record from the server' }).tap();
    await panel.getByRole('button', { name: 'Leave it there' }).tap();
    expect(await log.ends('ilka')).toHaveLength(1);
    await panel.getByRole('button', { name: 'Delete my record from the server' }).tap();
    await panel.getByText('no device of theirs is paired any more').waitFor();
    await panel.getByRole('button', { name: 'Delete it for good' }).tap();
    await page.getByText('The record is deleted from the server.').waitFor();
    expect((await log.archers()).map(({ id }) => id)).toEqual(['tomas']);
    expect(await panel.count()).toBe(0);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
