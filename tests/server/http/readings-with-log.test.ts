import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Listening } from '../../../server/http/listen.ts';
import { Log } from '../../../server/log/log.ts';
import { readingResultSchema } from '../../../src/reading/reading.ts';
import { plainReading } from '../../reading/plain-reading.ts';
import { fillSample, sampleEnd } from '../log/sample-log.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { noFacePool, testServer } from './test-server.ts';

const folder = temporaryFolder();
let server: Listening;
let log: Log;

beforeAll(async () => {
  mkdirSync(join(folder, 'uploads'));
  log = await Log.open(join(folder, 'log'));
  await fillSample(log);
  for (let i = 0; i < 4; i++) await log.putEnd(sampleEnd('ilka', i));
  server = await testServer({
    uploadFolder: join(folder, 'uploads'),
    log,
    pool: {
      ...noFacePool,
      read: () => Promise.resolve({ ok: true, elapsedMs: 1, reading: plainReading() }),
    },
  });
});

async function post(request: object, cookie?: string): Promise<[number, unknown]> {
  const body = new FormData();
  body.append('photo', new Blob(['photo']));
  body.append('request', JSON.stringify(request));
  const headers = cookie === undefined ? {} : { cookie };
  const response = await fetch(new URL('/api/readings', server.url), {
    method: 'POST',
    body,
    headers,
  });
  return [response.status, await response.json()];
}

describe('POST /api/readings with somebody of the log', () => {
  it('judges with their record, and without a name as before', async () => {
    const [, plain] = await post({ distanceM: 30 });
    expect(plain).toEqual({ photo: 'photo', ok: true, elapsedMs: 1, reading: plainReading() }); // prettier-ignore
    const [status, body] = await post({ distanceM: 30, archer: 'Ilka Brandt', bow: 'ilka-bow' });
    expect(status).toBe(200);
    const result = readingResultSchema.parse(body);
    expect(result).toMatchObject({
      log: { archer: 'ilka', bow: 'ilka-bow', setUp: 'ilka-first', ends: 4 },
    });
    expect(result.ok && result.reading.tuning!.fletchedForm.verdict).not.toBe('unknown');
  });

  it('says who is not there, also to a device that may see another archer only', async () => {
    const unknown = [404, { error: { code: 'unknown-archer', message: expect.stringContaining('"Nobody"') as string } }]; // prettier-ignore
    expect(await post({ archer: 'Nobody' })).toEqual(unknown);
    const { token } = (await log.devices.pair(
      await log.devices.newCode({ role: 'archer', archerId: 'tomas' }),
    ))!;
    const [status, body] = await post({ archer: 'ilka' }, `endwise=${token}`);
    expect(status).toBe(404);
    expect(JSON.stringify(body)).not.toContain('Ilka Brandt');
  });
});
