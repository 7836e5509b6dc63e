import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { request as rawRequest } from 'node:http';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Listening } from '../../../server/http/listen.ts';
import { Log } from '../../../server/log/log.ts';
import type { ReadingJob } from '../../../server/reading/reading-job.ts';
import { PoolFullError } from '../../../server/reading/reading-pool.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { noFacePool, testServer } from './test-server.ts';

const folder = temporaryFolder();
const uploadFolder = join(folder, 'uploads');
const webFolder = join(folder, 'web');
let server: Listening;
let asked: { job: ReadingJob; photo: string }[];

beforeAll(async () => {
  mkdirSync(uploadFolder);
  mkdirSync(join(webFolder, 'vision'), { recursive: true });
  writeFileSync(join(webFolder, 'index.html'), '<!doctype html><title>page</title>');
  writeFileSync(join(webFolder, 'vision', 'reader-1a2b.js'), '');
  writeFileSync(join(folder, 'secret.txt'), 'secret');
  asked = [];
  server = await testServer({
    uploadFolder,
    webFolder,
    log: await Log.open(join(folder, 'log')),
    pool: {
      ...noFacePool,
      read: (job, options) => {
        const photo = readFileSync('path' in job.photo ? job.photo.path : '', 'utf8');
        if (photo === 'full') return Promise.reject(new PoolFullError(7));
        if (photo === 'fault') return Promise.reject(new TypeError('x is not a function'));
        asked.push({ job, photo });
        return noFacePool.read(job, options);
      },
    },
  });
});

const at = (path: string) => new URL(path, server.url);
function form(fields: Record<string, string | Blob>): FormData {
  const data = new FormData();
  for (const [name, value] of Object.entries(fields)) data.append(name, value);
  return data;
}
const post = (path: string, body: BodyInit, headers: Record<string, string> = {}) =>
  fetch(at(path), { method: 'POST', body, headers });
const errorOf = async (response: Response) => {
  const body = (await response.json()) as { error: { code: string; message: string } };
  expect(Object.keys(body)).toEqual(['error']);
  expect(body.error.message).toMatch(/^[^\n]*\.$/);
  return [response.status, body.error.code];
};
const photo = (content: string) => new Blob([content]);

/** fetch hides what a hostile client can send: raw paths and headers. */
function raw(path: string, headers: Record<string, string>): Promise<number> {
  return new Promise((resolve, reject) => {
    const { port } = at('/');
    rawRequest({ host: '127.0.0.1', port, path, headers }, (response) => {
      response.resume();
      resolve(response.statusCode ?? 0);
    })
      .on('error', reject)
      .end();
  });
}

describe('POST /api/readings', () => {
  it('hands the photo, the earlier photo and the request to a worker, and keeps nothing', async () => {
    const response = await post(
      '/api/readings',
      form({
        photo: photo('after'),
        before: photo('before'),
        request: JSON.stringify({ face: 'wa80', shaftMm: 5.5, fletched: 3 }),
      }),
    );
    expect(await errorOf(response)).toEqual([422, 'no-face']);
    expect(asked.at(-1)!.photo).toBe('after');
    expect(asked.at(-1)!.job.request).toMatchObject({ face: 'wa80', shaftMm: 5.5 });
    expect(asked.at(-1)!.job.before).toBeDefined();
    expect(readdirSync(uploadFolder)).toEqual([]);
  });

  it('streams the place in the queue to a client that asks for it', async () => {
    const response = await post('/api/readings', form({ photo: photo('x') }), {
      accept: 'application/x-ndjson',
    });
    const lines = (await response.text())
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as object);
    expect(lines).toMatchObject([
      { ahead: 1 },
      { ahead: 0 },
      { ok: false, error: { code: 'no-face' } },
    ]);
  });

  it.each([
    ['no photo', { request: '{}' }, 400, 'bad-request'],
    ['broken JSON', { photo: photo('x'), request: '{' }, 400, 'bad-request'],
    ['a negative shaft', { photo: photo('x'), request: '{"shaftMm":-3}' }, 400, 'bad-request'],
    [
      'a polluted request',
      { photo: photo('x'), request: '{"__proto__":{"face":1},"face":1}' },
      400,
      'bad-request',
    ],
    ['a file under another name', { photo: photo('x'), other: photo('y') }, 400, 'bad-request'],
    [
      'a field beyond its length',
      { photo: photo('x'), request: ' '.repeat(300_000) },
      413,
      'too-large',
    ],
    ['a full queue', { photo: photo('full') }, 503, 'busy'],
    ['a fault of ours', { photo: photo('fault') }, 500, 'internal'],
  ])('answers %s with a sentence', async (_what, fields, status, code) => {
    const response = await post('/api/readings', form(fields));
    expect(await errorOf(response)).toEqual([status, code]);
    expect(readdirSync(uploadFolder)).toEqual([]);
  });

  it('refuses more parts than there can be, and what is no form', async () => {
    const many = form({ photo: photo('x') });
    for (let i = 0; i < 10_000; i++) many.append(`f${i}`, 'x');
    expect(await errorOf(await post('/api/readings', many))).toEqual([413, 'too-large']);
    expect(await errorOf(await post('/api/readings', 'plain'))).toEqual([415, 'bad-request']);
    const torn = '--b\r\ncontent-disposition: form-data; name="photo"; filename="a"\r\n\r\nhalf';
    const broken = await post('/api/readings', torn, {
      'content-type': 'multipart/form-data; boundary=b',
    });
    expect(await errorOf(broken)).toEqual([400, 'bad-request']);
    expect(readdirSync(uploadFolder)).toEqual([]);
  });
});

describe('POST /api/offset', () => {
  it('answers with groups and tuning', async () => {
    const end = {
      distanceM: 30,
      marks: [
        { mm: [0, 0], kind: 'fletched' },
        { mm: [30, 60], kind: 'bare' },
      ],
    };
    const response = await post('/api/offset', JSON.stringify(end), {
      'content-type': 'application/json',
    });
    const body = (await response.json()) as {
      groups: { offset: { mrad: number[] } };
      tuning: object;
    };
    expect(body.groups.offset.mrad).toEqual([1, 2]);
    expect(body.tuning).toHaveProperty('summary');
  });

  it.each([
    ['{', 'bad-request'],
    ['{"marks":[]}', 'bad-request'],
    ['{"marks":[{"mm":[1e9,0],"kind":"bare"}]}', 'bad-request'],
    [JSON.stringify({ marks: 'x'.repeat(300_000) }), 'too-large'],
  ])('refuses %.20s', async (body, code) => {
    const response = await post('/api/offset', body, { 'content-type': 'application/json' });
    expect((await errorOf(response))[1]).toBe(code);
  });
});

describe('the server', () => {
  it('says that it is well', async () => {
    expect(await (await fetch(at('/api/health'))).json()).toMatchObject({
      status: 'ok',
      waiting: 0,
    });
  });

  it('lets no other site act through a visitor', async () => {
    expect(await raw('/api/health', { host: 'rebound.example' })).toBe(421);
    expect(await raw('/api/health', { host: 'localhost:1' })).toBe(200);
    const foreign = { origin: 'https://elsewhere.example', 'content-type': 'application/json' };
    expect(await errorOf(await post('/api/offset', '{}', foreign))).toEqual([
      403,
      'foreign-origin',
    ]);
  });

  it('serves the page with headers that allow no inline script, and nothing outside it', async () => {
    const page = await fetch(at('/'));
    expect(await page.text()).toContain('<title>page</title>');
    const policy = page.headers.get('content-security-policy')!;
    expect(policy).toContain("script-src 'self' 'wasm-unsafe-eval';");
    expect(page.headers.get('x-powered-by')).toBeNull();
    // OpenCV's glue needs functions from text; only the worker's own scripts may make them.
    const worker = await fetch(at('/vision/reader-1a2b.js'));
    expect(worker.headers.get('content-security-policy')).toContain("'unsafe-eval'");
    expect(worker.headers.get('cache-control')).toContain('immutable');
    const host = 'localhost';
    for (const path of [
      '/../secret.txt',
      '/%2e%2e/secret.txt',
      '/vision/..%2f..%2fsecret.txt',
      '/%00',
    ]) {
      expect(await raw(path, { host })).toBeGreaterThanOrEqual(400);
    }
    expect(await errorOf(await fetch(at('/api/nothing')))).toEqual([404, 'not-found']);
    const nowhere = await fetch(at('/no/where'), { headers: { accept: 'text/html' } });
    expect([nowhere.status, await nowhere.text()]).toEqual([
      404,
      expect.stringMatching(/There is nothing here\..*href="\.\.\/"/s),
    ]);
  });
});
