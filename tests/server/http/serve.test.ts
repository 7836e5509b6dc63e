import { spawn } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { expect, it } from 'vitest';
import { temporaryFolder } from '../temporary-folder.ts';

const folder = temporaryFolder();
const ENDWISE = fileURLToPath(new URL('../../../server/cli/endwise.mjs', import.meta.url));
const uploadFolders = () =>
  readdirSync(tmpdir()).filter((name) => name.startsWith('endwise-uploads-'));

it(
  'listens here alone, and ends when what is being read is read',
  { timeout: 180_000 },
  async () => {
    const before = uploadFolders();
    const child = spawn(process.execPath, [ENDWISE, 'serve', '--port', '0', '--workers', '1'], {
      env: { ...process.env, ENDWISE_DATA: join(folder, 'data'), ENDWISE_LOG: 'info' },
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
    let printed = '';
    child.stdout.on('data', (chunk: Buffer) => (printed += chunk.toString()));
    await expect
      .poll(() => printed, { timeout: 90_000 })
      .toMatch(/endwise is at http:\/\/127\.0\.0\.1:\d+\//);
    const url = /http:\S+/.exec(printed)![0];
    const form = new FormData();
    const meadow = sharp({ create: { width: 300, height: 300, channels: 3, background: 'green' } });
    const photo = new Uint8Array(await meadow.jpeg().toBuffer());
    form.append('photo', new Blob([photo]));
    const answer = fetch(new URL('/api/readings', url), { method: 'POST', body: form });
    const reading = async () =>
      ((await (await fetch(new URL('/api/health', url))).json()) as { reading: number }).reading;
    await expect.poll(reading, { timeout: 30_000 }).toBe(1);
    child.kill('SIGTERM');
    expect(await (await answer).json()).toMatchObject({ error: { code: 'no-face' } });
    expect(await ended).toBe(0);
    expect(printed).toContain('"route":"/api/readings","status":422');
    // The server's own folder for uploads is gone with it.
    expect(uploadFolders().filter((name) => !before.includes(name))).toEqual([]);
  },
);
