import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { request, type IncomingMessage } from 'node:http';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import sharp from 'sharp';
import { expect, it } from 'vitest';
import { Log } from '../../../server/log/log.ts';
import type { End } from '../../../src/tuning/record/session.ts';
import { fillSample, sampleEnd } from '../log/sample-log.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { startServer } from './start-server.ts';

const data = join(temporaryFolder(), 'data');
const UPLOADS = 12;
const MEGABYTES = 20;

/** An end with its photo as a form, a piece at a time: decoders pass over what follows the picture. */
function* formOf(end: End, photo: Uint8Array, paddingMb: number) {
  const piece = Buffer.alloc(100_000);
  yield `--part\r\nContent-Disposition: form-data; name="end"\r\n\r\n${JSON.stringify(end)}\r\n`;
  yield `--part\r\nContent-Disposition: form-data; name="photo"; filename="1.jpg"\r\n\r\n`;
  yield photo;
  for (let i = 0; i < paddingMb * 10; i++) yield piece;
  // No two are the same photo.
  yield `${end.id}\r\n--part--\r\n`;
}

/** The most memory that a process has had, MB. */
const peakMb = (pid: number) =>
  Number(/VmHWM:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))![1]) / 1024;

it.runIf(process.platform === 'linux')(
  'keeping many large photos at once costs the main process next to nothing',
  { timeout: 240_000 },
  async () => {
    const log = await Log.open(data);
    await fillSample(log);
    await log.close();
    const server = await startServer(data);
    const small = await sharp({
      create: { width: 60, height: 40, channels: 3, background: 'red' },
    })
      .jpeg()
      .toBuffer();
    const keep = async (number: number, padding: number): Promise<number> => {
      const put = request(new URL(`/api/log/ends/ilka-end-${number}`, server.url), {
        method: 'PUT',
        headers: { 'content-type': 'multipart/form-data; boundary=part' },
      });
      const answer = once(put, 'response') as Promise<[IncomingMessage]>;
      await pipeline(Readable.from(formOf(sampleEnd('ilka', number), small, padding)), put);
      const [response] = await answer;
      response.resume();
      return response.statusCode!;
    };
    // What is loaded with the first photo is no part of the measure.
    expect(await keep(0, 0)).toBe(200);
    const before = peakMb(server.pid);
    const kept = Array.from({ length: UPLOADS }, (_, i) => keep(i + 1, MEGABYTES));
    expect(await Promise.all(kept)).toEqual(Array.from({ length: UPLOADS }, () => 200));
    expect(peakMb(server.pid) - before).toBeLessThan(100);
    expect(await server.end()).toBe(0);
  },
);
