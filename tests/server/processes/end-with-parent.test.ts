import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

const start = new URL('./start-hanging.ts', import.meta.url).pathname;

/** Of the processes that this one started, as Linux lists them. */
function childOf(pid: number): number | undefined {
  const children = readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8');
  return children
    .split(' ')
    .filter((text) => text !== '')
    .map(Number)
    .find((child) => readFileSync(`/proc/${child}/cmdline`, 'utf8').includes('process-entry'));
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}

it.runIf(process.platform === 'linux')(
  'a worker that hangs does not outlive a server that was killed',
  { timeout: 60_000 },
  async () => {
    const server = spawn(process.execPath, ['--import', import.meta.resolve('tsx'), start]);
    let said = '';
    server.stdout.on('data', (chunk: Buffer) => (said += chunk.toString()));
    await expect.poll(() => said, { timeout: 50_000 }).toBe('begun\n');
    const worker = childOf(server.pid!)!;
    expect(isAlive(worker)).toBe(true);
    server.kill('SIGKILL');
    await expect.poll(() => isAlive(worker), { timeout: 10_000 }).toBe(false);
  },
);
