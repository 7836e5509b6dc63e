import { spawn } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, onTestFinished } from 'vitest';
import { listen } from '../../../server/http/listen.ts';
import { KEEPER, type Holder } from '../../../server/log/device-store.ts';
import { Log } from '../../../server/log/log.ts';
import { fillSample } from '../log/sample-log.ts';
import { appOfTests } from '../http/app-of-tests.ts';
import { fromTheNetwork } from '../http/from-the-network.ts';
import { hasPostgres } from '../postgres/postgres-of-tests.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { startPostgres } from '../postgres/start-postgres.ts';
import { queueOfTests, workerOfTests } from './queue-of-tests.ts';

const folder = temporaryFolder();
const ofArcher = (archerId: string): Holder => ({ role: 'archer', archerId });
let servers = 0;

/** A server that shares a database with others; the photos it is sent say what becomes of them. */
async function serverOfTests(url?: string) {
  const queue = await queueOfTests(url === undefined ? {} : { url });
  const log = await Log.open(queue.url);
  const uploadFolder = join(folder, `uploads-${servers++}`);
  mkdirSync(uploadFolder);
  const closing = new AbortController();
  const deps = { readings: queue.readings, log, uploadFolder, webFolder: folder, closing: closing.signal }; // prettier-ignore
  const here = await listen(appOfTests(deps), { host: '127.0.0.1', port: 0 });
  const network = await listen(fromTheNetwork(appOfTests(deps)), { host: '127.0.0.1', port: 0 });
  onTestFinished(async () => {
    await Promise.all([here.close(), network.close()]);
    await log.close();
  });
  return { ...queue, log, closing, at: here.url, network: network.url };
}

async function post(
  at: string,
  words: string,
  headers: Record<string, string> = {},
  about?: object,
) {
  const body = new FormData();
  body.append('photo', new Blob([words]));
  if (about) body.append('request', JSON.stringify(about));
  const response = await fetch(new URL('api/readings', at), { method: 'POST', body, headers });
  return { response, status: response.status, json: (await response.json()) as { id: string } };
}

const LATER = { prefer: 'respond-async' };
const ask = async (url: URL, headers: Record<string, string> = {}, method = 'GET') => {
  const response = await fetch(url, { headers, method });
  return [response.status, response.status === 204 ? null : await response.json()] as const;
};

describe.skipIf(!hasPostgres)('servers that share a queue', () => {
  it('answer a photo with its reading, and any of them any address of one', async () => {
    const one = await serverOfTests();
    const other = await serverOfTests(one.url);
    const { response, status, json } = await post(one.at, 'meadow', LATER);
    expect([status, json]).toEqual([202, { id: json.id, state: 'waiting', ahead: 1 }]);
    const address = new URL(response.headers.get('location')!, new URL('api/readings', other.at));
    expect(await ask(address)).toEqual([202, { id: json.id, state: 'waiting', ahead: 1 }]);
    workerOfTests(one);
    const read = [422, { error: { code: 'no-face', message: 'meadow' } }];
    expect(await ask(address, { prefer: 'wait=20' })).toEqual(read);
    // What was sent may not have arrived.
    expect(await ask(address)).toEqual(read);
    const plain = await post(other.at, 'wood');
    expect([plain.status, plain.json]).toEqual([422, { error: { code: 'no-face', message: 'wood' } }]); // prettier-ignore
    // What was answered at once is not kept.
    await expect.poll(() => one.readings.figures()).toMatchObject({ waiting: 0, kept: 1 });
    expect(await ask(address, {}, 'DELETE')).toEqual([204, null]);
    expect((await ask(address))[0]).toBe(404);
  });

  it('stream places to who asks for an address, and read the same upload sent again once', async () => {
    const queue = await serverOfTests();
    const { at, readings } = queue;
    const key = { ...LATER, 'idempotency-key': '"a-1"' };
    const first = await post(at, 'a', key);
    const second = await post(at, 'a', key);
    expect(second.json.id).toBe(first.json.id);
    const third = await post(at, 'b', key);
    expect([third.status, third.json]).toMatchObject([422, { error: { code: 'key-used' } }]);
    const late = await post(at, 'c', { ...LATER, priority: 'u=6' });
    await post(at, 'd', { ...LATER, priority: 'u=0' });
    expect(await ask(new URL(`api/readings/${late.json.id}`, at))).toMatchObject([202, { ahead: 3 }]); // prettier-ignore
    const stream = fetch(new URL(`api/readings/${late.json.id}`, at), {
      headers: { accept: 'application/x-ndjson' },
    }).then((response) => response.text());
    await expect.poll(() => readings.here.waiting).toBe(1);
    await new Promise((resolve) => setTimeout(resolve, 400));
    workerOfTests(queue);
    const lines = (await stream).trim().split('\n').map((line) => JSON.parse(line) as object); // prettier-ignore
    expect(lines[0]).toEqual({ ahead: 3 });
    expect(lines.at(-1)).toMatchObject({ error: { message: 'c' } });
  });

  it('let nobody else ask for a reading, or learn of it', async () => {
    const { at, network, log } = await serverOfTests();
    await fillSample(log);
    const cookieOf = async (holder: Holder) =>
      `endwise=${(await log.devices.pair(await log.devices.newCode(holder)))!.token}`;
    const [ilka, tomas, coach] = await Promise.all(
      [ofArcher('ilka'), ofArcher('tomas'), KEEPER].map(cookieOf),
    );
    const { json } = await post(network, 'a', { ...LATER, cookie: ilka! });
    const address = new URL(`api/readings/${json.id}`, network);
    const unknown = [404, { error: { code: 'unknown-reading', message: expect.stringContaining('7 days') as string } }]; // prettier-ignore
    for (const method of ['GET', 'DELETE']) {
      expect(await ask(address, { cookie: tomas! }, method)).toEqual(unknown);
      expect((await ask(address, {}, method))[0]).toBe(401);
    }
    expect(await ask(new URL('api/readings/x', network), { cookie: coach! })).toEqual(unknown);
    for (const cookie of [ilka!, coach!]) expect((await ask(address, { cookie }))[0]).toBe(202);
    // Jobs and photos go with their archer.
    await log.deleteArcher('ilka');
    expect((await ask(new URL(`api/readings/${json.id}`, at)))[0]).toBe(404);
  });

  it('send who waits to another server when one ends, and lose nothing', async () => {
    const one = await serverOfTests();
    const other = await serverOfTests(one.url);
    const waiting = post(one.at, 'a');
    await expect.poll(() => one.readings.here.waiting).toBe(1);
    expect((await ask(new URL('api/ready', one.at)))[0]).toBe(200);
    one.closing.abort();
    const { status, json } = await waiting;
    expect([status, json]).toEqual([202, { id: json.id, state: 'waiting', ahead: 1 }]);
    expect(await ask(new URL('api/ready', one.at))).toMatchObject([503, { error: { code: 'not-ready' } }]); // prettier-ignore
    workerOfTests(other);
    const address = new URL(`api/readings/${json.id}`, other.at);
    expect(await ask(address, { prefer: 'wait=20' })).toMatchObject([422, { error: { message: 'a' } }]); // prettier-ignore
  });

  it(
    'wait out a database that is killed, and read once what was confirmed, past a killed worker',
    { timeout: 120_000 },
    async () => {
      // prettier-ignore
      const postgres = await startPostgres({ durable: true });
      onTestFinished(() => postgres.stop());
      const server = await serverOfTests(postgres.url);
      const start = () => {
        const script = fileURLToPath(new URL('./start-worker.ts', import.meta.url));
        const reader = new URL('./reader-of-tests.ts', import.meta.url).href;
        const child = spawn(process.execPath, ['--import', 'tsx', script, postgres.url, reader, '1', '1'], { stdio: 'ignore' }); // prettier-ignore
        onTestFinished(() => void child.kill('SIGKILL'));
        return child;
      };
      const first = start();
      const slow = await post(server.at, 'wait 1500', LATER);
      const next = await post(server.at, 'next', LATER);
      await expect.poll(() => server.readings.figures()).toMatchObject({ reading: 1 });
      first.kill('SIGKILL');
      await postgres.kill();
      const meanwhile = post(server.at, 'meanwhile', LATER);
      await postgres.start();
      start();
      const late = await meanwhile;
      expect(late.status).toBe(202);
      for (const [{ json }, message] of [
        [slow, 'wait 1500'],
        [next, 'next'],
        [late, 'meanwhile'],
      ] as const) {
        // prettier-ignore
        const address = new URL(`api/readings/${json.id}`, server.at);
        expect(await ask(address, { prefer: 'wait=60' })).toMatchObject([422, { error: { message } }]); // prettier-ignore
      }
      expect(await server.readings.figures()).toMatchObject({ waiting: 0, reading: 0, setAside: 0, kept: 3 }); // prettier-ignore
    },
  );
});
