import { readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { expect, it } from 'vitest';
import { temporaryFolder } from '../temporary-folder.ts';
import { startServer } from './start-server.ts';

const folder = temporaryFolder();
/** Of one server: others may run beside it. */
const uploadFolders = (pid: number) =>
  readdirSync(tmpdir()).filter(
    (name) => name.startsWith('endwise-uploads-') && name.includes(`-${pid}-`),
  );

it(
  'listens here alone, and ends when what is being read is read',
  { timeout: 180_000 },
  async () => {
    const { url, pid, end, printed } = await startServer(join(folder, 'data'));
    const form = new FormData();
    const meadow = sharp({ create: { width: 300, height: 300, channels: 3, background: 'green' } });
    const photo = new Uint8Array(await meadow.jpeg().toBuffer());
    form.append('photo', new Blob([photo]));
    const answer = fetch(new URL('/api/readings', url), { method: 'POST', body: form });
    const reading = async () =>
      ((await (await fetch(new URL('/api/health', url))).json()) as { reading: number }).reading;
    await expect.poll(reading, { timeout: 30_000 }).toBe(1);
    expect(uploadFolders(pid)).toHaveLength(1);
    const ended = end();
    expect(await (await answer).json()).toMatchObject({ error: { code: 'no-face' } });
    expect(await ended).toBe(0);
    expect(printed()).toContain('"route":"/api/readings","status":422');
    // The server's own folder for uploads is gone with it.
    expect(uploadFolders(pid)).toEqual([]);
  },
);
