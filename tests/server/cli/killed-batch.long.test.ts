import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { expect, it } from 'vitest';
import { temporaryFolder } from '../temporary-folder.ts';

const folder = temporaryFolder();
const command = new URL('../../../server/cli/endwise.mjs', import.meta.url).pathname;
const PHOTOS = 12;

it('goes on after a kill with nothing twice and nothing lost', { timeout: 180_000 }, async () => {
  const photos = join(folder, 'photos');
  const out = join(folder, 'results.jsonl');
  mkdirSync(photos);
  const meadow = await sharp({
    create: { width: 500, height: 500, channels: 3, background: 'green' },
  })
    .jpeg()
    .toBuffer();
  for (let i = 0; i < PHOTOS; i++) writeFileSync(join(photos, `${i}.jpg`), meadow);
  const start = () => {
    const args = [command, 'batch', photos, '--out', out, '--workers', '1'];
    const child = spawn(process.execPath, args, {
      stdio: 'ignore',
      env: { ...process.env, ENDWISE_DATA: join(folder, 'data') },
    });
    return { child, ended: new Promise((resolve) => child.once('close', resolve)) };
  };
  const written = () => (existsSync(out) ? readFileSync(out, 'utf8').split('\n').length - 1 : 0);

  const first = start();
  await expect.poll(written, { timeout: 90_000, interval: 5 }).toBeGreaterThan(1);
  first.child.kill('SIGKILL');
  await first.ended;
  // A power cut may tear the line that was being written.
  writeFileSync(out, '{"photo":"', { flag: 'a' });

  await start().ended;
  const lines = readFileSync(out, 'utf8')
    .trim()
    .split('\n')
    .map((line) => (JSON.parse(line) as { photo: string }).photo);
  expect(lines.sort()).toEqual(Array.from({ length: PHOTOS }, (_, i) => `${i}.jpg`).sort());
});
