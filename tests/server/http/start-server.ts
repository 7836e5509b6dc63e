import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, onTestFinished } from 'vitest';

const ENDWISE = fileURLToPath(new URL('../../../server/cli/endwise.mjs', import.meta.url));

export interface StartedServer {
  readonly url: string;
  readonly pid: number;
  readonly printed: () => string;
  /** Tells it to end; resolves to its exit status. */
  readonly end: () => Promise<number | null>;
}

/** Starts the server as a person does, as a process of its own, and ends it after the test. */
export async function startServer(
  dataFolder: string,
  env: NodeJS.ProcessEnv = {},
): Promise<StartedServer> {
  const child = spawn(process.execPath, [ENDWISE, 'serve', '--port', '0', '--workers', '1'], {
    env: { ...process.env, ENDWISE_DATA: dataFolder, ENDWISE_LOG: 'info', ...env },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  onTestFinished(() => void child.kill('SIGKILL'));
  let printed = '';
  child.stdout.on('data', (chunk: Buffer) => (printed += chunk.toString()));
  await expect
    .poll(() => printed, { timeout: 90_000 })
    .toMatch(/endwise is at http:\/\/127\.0\.0\.1:\d+\//);
  return {
    url: /http:\S+/.exec(printed)![0],
    pid: child.pid!,
    printed: () => printed,
    end: () => {
      child.kill('SIGTERM');
      return ended;
    },
  };
}
