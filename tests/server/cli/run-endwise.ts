import { spawn } from 'node:child_process';

export interface Ran {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

const CHECKOUT = new URL('../../../', import.meta.url);
const COMMAND = new URL('server/cli/endwise.ts', CHECKOUT).pathname;

/** Runs the command line in a process of its own, from `folder`, with a data folder of its own. */
export function runEndwise(args: readonly string[], folder: string): Promise<Ran> {
  const child = spawn(
    process.execPath,
    ['--import', import.meta.resolve('tsx'), COMMAND, ...args],
    {
      cwd: folder,
      env: { ...process.env, npm_lifecycle_event: '', ENDWISE_DATA: `${folder}/data` },
    },
  );
  let [stdout, stderr] = ['', ''];
  child.stdout.on('data', (chunk: Buffer) => (stdout += chunk.toString()));
  child.stderr.on('data', (chunk: Buffer) => (stderr += chunk.toString()));
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (status) => resolve({ status, stdout, stderr }));
  });
}
