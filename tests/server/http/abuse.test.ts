import { mkdirSync, readdirSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { Writable } from 'node:stream';
import { pino } from 'pino';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { appOfTests } from './app-of-tests.ts';
import { listen, type Listening } from '../../../server/http/listen.ts';
import { receiveUpload } from '../../../server/http/receive-upload.ts';
import { Log } from '../../../server/log/log.ts';
import { temporaryFolder } from '../temporary-folder.ts';

const uploadFolder = join(temporaryFolder(), 'uploads');
const logged: Record<string, unknown>[] = [];
let log: Log;
let server: Listening;
/** The same app for clients who send too slowly: nobody else is to be cut by a busy machine. */
let impatient: Listening;

beforeAll(async () => {
  mkdirSync(uploadFolder);
  log = await Log.open(join(uploadFolder, '..', 'log'));
  const lines = new Writable({
    write(chunk: Buffer, _encoding, done) {
      logged.push(JSON.parse(chunk.toString()) as Record<string, unknown>);
      done();
    },
  });
  const app = appOfTests({
    uploadFolder,
    log,
    logger: pino({ level: 'info' }, lines),
  });
  const patience = { headersTimeout: 200, requestTimeout: 400, connectionsCheckingInterval: 50 };
  server = await listen(app, { host: '127.0.0.1', port: 0 });
  impatient = await listen(app, { host: '127.0.0.1', port: 0, patience });
});
afterAll(async () => {
  await server.close();
  await impatient.close();
  await log.close();
});

/** What comes back to a client that sends this and then nothing more. */
function sendAndWait(text: string): Promise<string> {
  return new Promise((resolve) => {
    const socket = connect(impatient.port, '127.0.0.1', () => socket.write(text));
    let answer = '';
    socket.on('data', (chunk) => (answer += chunk.toString()));
    socket.on('error', () => resolve(answer));
    socket.on('close', () => resolve(answer));
  });
}

it('gives up on clients that send too slowly, and keeps nothing of theirs', async () => {
  const head = 'POST /api/readings HTTP/1.1\r\nHost: localhost\r\n';
  expect(await sendAndWait(head)).toMatch(/^HTTP\/1\.1 408/);
  const form =
    `${head}Content-Type: multipart/form-data; boundary=b\r\nContent-Length: 9999\r\n\r\n` +
    '--b\r\nContent-Disposition: form-data; name="photo"; filename="a"\r\n\r\nhalf';
  await sendAndWait(form);
  await expect.poll(() => readdirSync(uploadFolder)).toEqual([]);
});

it('refuses an upload beyond its bytes while it comes in, and keeps nothing of it', async () => {
  let refused: unknown;
  const receiver = await listen(
    (request, response) => {
      receiveUpload(request, { folder: uploadFolder, fileFields: ['photo'], maxFileBytes: 1000 })
        .catch((error: unknown) => (refused = error))
        .finally(() => response.end());
    },
    { host: '127.0.0.1', port: 0 },
  );
  const form = new FormData();
  form.append('photo', new Blob([new Uint8Array(100_000)]));
  await fetch(receiver.url, { method: 'POST', body: form });
  expect(refused).toMatchObject({ name: 'PhotoError', code: 'file-too-large' });
  expect(readdirSync(uploadFolder)).toEqual([]);
  await receiver.close();
});

it('logs each request without names, ids, queries or addresses', async () => {
  logged.length = 0;
  const archer = { id: 'ilka-brandt', name: 'Ilka Brandt', hand: 'right', notes: '' };
  await fetch(new URL('/api/log/archers/ilka-brandt?who=Ilka', server.url), {
    method: 'PUT',
    body: JSON.stringify(archer),
    headers: { 'content-type': 'application/json', cookie: 'endwise=secret-token' },
  });
  await fetch(new URL('/Ilka/Brandt', server.url));
  await expect.poll(() => logged.length).toBe(2);
  expect(logged).toMatchObject([
    { level: 30, method: 'PUT', route: '/api/log/archers/:', status: 204, finished: true },
    { level: 30, method: 'GET', route: '/:/:', status: 404 },
  ]);
  expect(JSON.stringify(logged)).not.toMatch(/ilka|secret|127\.0\.0\.1/i);
});
