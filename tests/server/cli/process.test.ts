import { spawn } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { temporaryFolder } from '../temporary-folder.ts';

const folder = temporaryFolder();
const command = new URL('../../../server/cli/endwise.mjs', import.meta.url).pathname;

it('is a process with exit statuses, run from any folder', { timeout: 180_000 }, async () => {
  writeFileSync(join(folder, 'empty.jpg'), '');
  const run = (args: string[], env: NodeJS.ProcessEnv, cwd: string) =>
    new Promise<[number | null, string]>((resolve, reject) => {
      const child = spawn(process.execPath, [command, ...args], {
        cwd,
        env: { ...process.env, npm_lifecycle_event: '', ...env },
      });
      let stderr = '';
      child.stderr.on('data', (chunk: Buffer) => (stderr += chunk.toString()));
      child.on('error', reject);
      child.on('close', (status) => resolve([status, stderr]));
    });
  const empty = 'endwise: The file is empty: copy the photo again.\n';
  expect(await run(['read', 'empty.jpg'], {}, folder)).toEqual([1, empty]);
  // npm changes into the checkout and says where it was called.
  const npm = { npm_lifecycle_event: 'endwise', INIT_CWD: folder };
  expect(await run(['read', 'empty.jpg'], npm, '/')).toEqual([1, empty]);
  expect((await run(['bogus'], {}, folder))[0]).toBe(2);
});

it('minds no reader that has had enough', { timeout: 60_000 }, async () => {
  const child = spawn(process.execPath, [command, '--help']);
  child.stdout.destroy();
  let stderr = '';
  child.stderr.on('data', (chunk: Buffer) => (stderr += chunk.toString()));
  const status = await new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', resolve);
  });
  expect([status, stderr]).toEqual([0, '']);
});
