import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { PHOTO_FOLDERS } from './reading-bench.ts';

const COMMAND = fileURLToPath(new URL('../../server/cli/endwise.mjs', import.meta.url));
const ROUNDS = 5;

/** From the command line's start to its end, each the median of five processes, and what is in it. */
export async function startBench(): Promise<void> {
  const folder = PHOTO_FOLDERS.find((path) => existsSync(path))!;
  const read = ['read', join(folder, 'fresh-02.jpg'), '--face', 'wa80', '--shaft', '5.5', '--json'];
  const endwise = (...args: string[]) => [process.execPath, COMMAND, ...args];
  await run(endwise('--help'));
  const rows: Record<string, object> = {};
  for (const [name, line] of [
    ['node alone', [process.execPath, '-e', '0']],
    ['endwise --help', endwise('--help')],
    ['endwise read', endwise(...read)],
    ['npm run endwise -- read', ['npm', 'run', '--silent', 'endwise', '--', ...read]],
  ] as const) {
    const rounds: { wallMs: number; decodeToReadingMs: number }[] = [];
    for (let i = 0; i < ROUNDS; i++) rounds.push(await run(line));
    const median = (of: 'wallMs' | 'decodeToReadingMs') =>
      rounds.map((round) => round[of]).sort((a, b) => a - b)[ROUNDS >> 1]!;
    rows[name] = {
      wallMs: median('wallMs'),
      ofThatLoadingAndReadingMs: median('decodeToReadingMs'),
    };
  }
  console.log('\nCold start on the command line');
  console.table(rows);
}

function run(line: readonly string[]): Promise<{ wallMs: number; decodeToReadingMs: number }> {
  return new Promise((resolve, reject) => {
    const start = performance.now();
    const child = spawn(line[0]!, line.slice(1), { stdio: ['ignore', 'pipe', 'inherit'] });
    let out = '';
    child.stdout.on('data', (chunk: Buffer) => (out += chunk.toString()));
    child.once('error', reject);
    child.once('close', () => {
      const wallMs = Math.round(performance.now() - start);
      const elapsed = /"elapsedMs":(\d+)/.exec(out)?.[1];
      resolve({ wallMs, decodeToReadingMs: Number(elapsed ?? 0) });
    });
  });
}
