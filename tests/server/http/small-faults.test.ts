import { mkdirSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { Writable } from 'node:stream';
import { pino } from 'pino';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { appOfTests } from './app-of-tests.ts';
import { listen, type Listening } from '../../../server/http/listen.ts';
import { Log } from '../../../server/log/log.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { noFacePool } from './no-face-pool.ts';

const folder = temporaryFolder();
let logged = '';
let log: Log;
let server: Listening;
/** The same app with little patience and room: nobody else is to be cut by a busy machine. */
let strict: Listening;

beforeAll(async () => {
  mkdirSync(join(folder, 'uploads'));
  log = await Log.open(join(folder, 'log'));
  const lines = new Writable({
    write(chunk: Buffer, _encoding, done) {
      logged += chunk.toString();
      done();
    },
  });
  const app = appOfTests({
    pool: { ...noFacePool, read: () => Promise.reject(new Error('at "ilka-end-1" in /home/ilka')) },
    uploadFolder: join(folder, 'uploads'),
    log,
    logger: pino({ level: 'info' }, lines),
  });
  const here = { host: '127.0.0.1', port: 0 };
  server = await listen(app, here);
  strict = await listen(app, { ...here, mostConnections: 20, patience: { stallMs: 400 } });
});
afterAll(async () => {
  await strict.close();
  await log.close();
});

const at = (path: string, init?: RequestInit) => fetch(new URL(path, server.url), init);

it('says what is wrong with an address or an encoding instead of failing itself', async () => {
  expect((await at('/api/log/ends/%E0%A4%A/photo')).status).toBe(400);
  const body = gzipSync('{}').subarray(0, 9);
  const headers = { 'content-type': 'application/json', 'content-encoding': 'gzip' };
  const broken = await at('/api/offset', { method: 'POST', body, headers });
  expect([broken.status, await broken.text()]).toEqual([
    400,
    expect.stringContaining('bad-request'),
  ]);
  const strange = { ...headers, 'content-encoding': 'zebra' };
  expect((await at('/api/offset', { method: 'POST', body, headers: strange })).status).toBe(415);
});

it('writes faults down without ids, names or paths', async () => {
  const form = new FormData();
  form.append('photo', new Blob(['x']));
  expect((await at('/api/readings', { method: 'POST', body: form })).status).toBe(500);
  await expect.poll(() => logged).toContain('"msg":"fault"');
  expect(logged).toContain('"kind":"Error"');
  expect(logged).not.toMatch(/ilka/);
});

it('cuts a body that stands still, and makes room for visitors beside idle connections', async () => {
  const head =
    'POST /api/readings HTTP/1.1\r\nHost: localhost\r\nContent-Length: 9999\r\n' +
    'Content-Type: multipart/form-data; boundary=b\r\n\r\n--b\r\n';
  const start = performance.now();
  const answer = await new Promise<string>((resolve) => {
    const socket = connect(strict.port, '127.0.0.1', () => socket.write(head));
    let text = '';
    socket.on('data', (chunk) => (text += chunk.toString()));
    socket.on('error', () => undefined);
    socket.on('close', () => resolve(text));
  });
  expect(answer).toMatch(/^HTTP\/1\.1 4/);
  expect(performance.now() - start).toBeLessThan(10_000);

  const idle = Array.from({ length: 40 }, () => connect(strict.port, '127.0.0.1'));
  idle.forEach((socket) => socket.on('error', () => undefined));
  await new Promise((resolve) => setTimeout(resolve, 200));
  expect((await fetch(new URL('/api/health', strict.url))).status).toBe(200);
  idle.forEach((socket) => socket.destroy());
});

it('ends soon although somebody has sent half an upload', async () => {
  const socket = connect(server.port, '127.0.0.1');
  socket.on('error', () => undefined);
  socket.write(
    'PUT /api/log/ends/x HTTP/1.1\r\nHost: localhost\r\nContent-Length: 99999\r\n\r\nhalf',
  );
  const feeding = setInterval(() => socket.write('x'.repeat(5000)), 100);
  await new Promise((resolve) => setTimeout(resolve, 200));
  const start = performance.now();
  await server.close();
  clearInterval(feeding);
  expect(performance.now() - start).toBeLessThan(10_000);
});
