import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { runLoad } from '../server/load/run-load.ts';
import { PHOTO_FOLDERS } from './reading-bench.ts';

const ENDWISE = fileURLToPath(new URL('../../server/cli/endwise.mjs', import.meta.url));

/** The server as a process of its own, 50 clients that upload photos to it, and one who browses. */
export async function loadBench({
  seconds = 40,
}: { readonly seconds?: number } = {}): Promise<void> {
  const data = mkdtempSync(join(tmpdir(), 'endwise-load-'));
  const folder = PHOTO_FOLDERS.find((path) => existsSync(path))!;
  const child = spawn(process.execPath, [ENDWISE, 'serve', '--port', '0'], {
    env: { ...process.env, ENDWISE_DATA: data },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  try {
    const url = await new Promise<string>((resolve, reject) => {
      child.stdout.on('data', (chunk: Buffer) => {
        const found = /http:\/\/\S+/.exec(chunk.toString());
        if (found) resolve(found[0]);
      });
      child.once('exit', (status) => reject(new Error(`The server ended with ${status}.`)));
    });
    const built = (await fetch(url)).ok;
    const pages = [...(built ? ['/'] : []), '/api/health', '/api/log/ends', '/api/log/archers'];
    const photo = new Uint8Array(readFileSync(join(folder, 'fresh-02.jpg')));
    const { lost, ...report } = await runLoad({ url, clients: 50, seconds, photo, pages });
    console.log(`\n50 clients upload for ${seconds} s while one browses ${pages.join(' ')}`);
    console.table({ uploads: { ...report.uploads, lost: lost.length } });
    console.table({ queue: report.queued });
    console.table({ pages: report.pages });
    for (const why of new Set(lost)) console.log(`lost: ${why}`);
  } finally {
    const ended = new Promise((resolve) => child.once('exit', resolve));
    child.kill('SIGTERM');
    await ended;
    rmSync(data, { recursive: true, force: true });
  }
}
