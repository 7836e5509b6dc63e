import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { listen } from '../../../server/http/listen.ts';
import { Log } from '../../../server/log/log.ts';
import { fillSample, sampleEnd } from '../log/sample-log.ts';
import { databaseOfTests, hasPostgres } from '../postgres/postgres-of-tests.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { appOfTests } from './app-of-tests.ts';
import { fromTheNetwork } from './from-the-network.ts';

const uploadFolder = join(temporaryFolder(), 'uploads');
mkdirSync(uploadFolder);

/** One of several servers, with nothing in common with the others but the database. */
async function serverOf(address: string) {
  const log = await Log.open(address);
  const app = fromTheNetwork(appOfTests({ uploadFolder, log }));
  const server = await listen(app, { host: '127.0.0.1', port: 0 });
  onTestFinished(async () => {
    await server.close();
    await log.close();
  });
  const ask = (path: string, init?: RequestInit) => fetch(new URL(path, server.url), init);
  const pair = (code: string) =>
    ask('/api/pair', {
      method: 'POST',
      body: JSON.stringify({ code }),
      headers: { 'content-type': 'application/json' },
    });
  return { log, ask, pair };
}

describe.skipIf(!hasPostgres)('any of two servers of one database', () => {
  it('lets in by the code of the other, and knows who was let in there', async () => {
    const address = await databaseOfTests();
    const [one, other] = [await serverOf(address), await serverOf(address)];
    await fillSample(one.log);
    await one.log.putEnd(sampleEnd('ilka', 1));
    const paired = await other.pair(
      await one.log.devices.newCode({ role: 'archer', archerId: 'ilka' }),
    );
    expect(paired.status).toBe(200);
    const headers = { cookie: paired.headers.get('set-cookie')!.split(';', 1)[0]! };
    for (const { ask } of [one, other]) {
      expect(await (await ask('/api/log/ends', { headers })).json()).toHaveLength(1);
    }
    expect(await one.log.devices.revoke()).toBe(1);
    expect((await other.ask('/api/log/ends', { headers })).status).toBe(401);
  });

  it('counts wrong codes with the other: twice as many servers are not twice as many tries', async () => {
    const address = await databaseOfTests();
    const servers = [await serverOf(address), await serverOf(address)];
    const status: number[] = [];
    for (let number = 0; number < 12; number++) {
      status.push((await servers[number % 2]!.pair('AAAA-AAAA')).status);
    }
    expect(status).toEqual([...Array.from({ length: 10 }, () => 403), 429, 429]);
    // A window that has passed begins anew.
    const { tries } = servers[0]!.log;
    expect((await tries!.count('short', 1)).count).toBe(1);
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect((await servers[1]!.log.tries!.count('short', 60_000)).count).toBe(1);
    expect((await tries!.count('short', 60_000)).count).toBe(2);
  });
});
