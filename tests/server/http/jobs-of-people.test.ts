import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { listen } from '../../../server/http/listen.ts';
import { KEEPER, type Holder } from '../../../server/log/device-store.ts';
import { Log } from '../../../server/log/log.ts';
import { COMMAND_LINE } from '../../../server/log/trail.ts';
import { PoolReadings } from '../../../server/reading/pool-readings.ts';
import { ENGINES, newAddress } from '../log/engines.ts';
import { fillSample } from '../log/sample-log.ts';
import { queueOfTests, workerOfTests } from '../queue/queue-of-tests.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { appOfTests } from './app-of-tests.ts';
import { fromTheNetwork } from './from-the-network.ts';
import { noFacePool } from './no-face-pool.ts';

const root = temporaryFolder();
const uploadFolder = join(root, 'uploads');
mkdirSync(uploadFolder);

describe.each(ENGINES)('readings with the log in %s', (engine) => {
  it("are the archer's whose end it is, else the device's that handed them in, and go with them", async () => {
    const address = await newAddress(engine, root);
    const log = await Log.open(address);
    onTestFinished(() => log.close());
    await fillSample(log);
    for (const id of ['marta', 'otto']) {
      await log.coaches.put({ id, name: id, archerIds: ['ilka'] }, COMMAND_LINE);
    }
    const queue = engine === 'PostgreSQL' ? await queueOfTests({ url: address }) : null;
    if (queue) workerOfTests(queue);
    const readings = queue?.readings ?? new PoolReadings(noFacePool);
    const app = fromTheNetwork(appOfTests({ uploadFolder, log, readings }));
    const server = await listen(app, { host: '127.0.0.1', port: 0 });
    onTestFinished(() => server.close());
    const paired = async (holder: Holder) =>
      `endwise=${(await log.devices.pair(await log.devices.newCode(holder)))!.token}`;
    const phone = await paired({ role: 'archer', archerId: 'ilka' });
    const tablet = await paired({ role: 'archer', archerId: 'ilka' });
    const marta = await paired({ role: 'coach', coachId: 'marta' });
    const sameMarta = await paired({ role: 'coach', coachId: 'marta' });
    const otto = await paired({ role: 'coach', coachId: 'otto' });
    const desk = await paired(KEEPER);
    const handIn = async (cookie: string, about: object = {}) => {
      const body = new FormData();
      body.append('photo', new Blob(['meadow']));
      body.append('request', JSON.stringify(about));
      const headers = { cookie, prefer: 'respond-async' };
      const init = { method: 'POST', body, headers };
      const response = await fetch(new URL('api/readings', server.url), init);
      expect(response.status).toBe(202);
      return ((await response.json()) as { id: string }).id;
    };
    /** Who of all devices may ask for a reading. */
    const seenBy = async (id: string) => {
      const devices = Object.entries({ phone, tablet, marta, sameMarta, otto, desk });
      const seen: string[] = [];
      for (const [name, cookie] of devices) {
        const headers = { cookie };
        const { status } = await fetch(new URL(`api/readings/${id}`, server.url), { headers });
        if (![401, 404].includes(status)) seen.push(name);
      }
      return seen;
    };
    const ofIlka = ['phone', 'tablet', 'marta', 'sameMarta', 'otto', 'desk'];
    const byPhone = await handIn(phone);
    const byCoach = await handIn(marta, { archer: 'ilka' });
    const unnamed = await handIn(marta);
    expect(await seenBy(byPhone)).toEqual(ofIlka);
    expect(await seenBy(byCoach)).toEqual(ofIlka);
    // Of whom nobody was said to be, no other coach sees it.
    expect(await seenBy(unnamed)).toEqual(['marta', 'desk']);
    await log.coaches.put({ id: 'otto', name: 'otto', archerIds: [] }, COMMAND_LINE);
    expect(await seenBy(byPhone)).toEqual(ofIlka.filter((name) => name !== 'otto'));
    const status = async (method: string, path: string, cookie: string) =>
      (await fetch(new URL(`api/${path}`, server.url), { method, headers: { cookie } })).status;
    // Only a keeper decides who coaches; whom they coached, and all that is theirs, stays.
    expect(await status('DELETE', 'coaches/otto', marta)).toBe(403);
    expect(await status('GET', 'rights', otto)).toBe(200);
    expect(await status('DELETE', 'coaches/otto', desk)).toBe(204);
    expect(await status('DELETE', 'coaches/otto', desk)).toBe(404);
    expect(await status('GET', 'rights', otto)).toBe(401);
    expect(await seenBy(byPhone)).toEqual(ofIlka.filter((name) => name !== 'otto'));
    // As another process deletes them.
    await log.deleteArcher('ilka');
    for (const id of [byPhone, byCoach]) expect(await seenBy(id)).toEqual([]);
    expect(await readings.find(byPhone)).toBeNull();
    expect(await seenBy(unnamed)).toEqual(['marta', 'desk']);
  });
});
