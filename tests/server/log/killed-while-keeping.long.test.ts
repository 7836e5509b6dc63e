import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { Log } from '../../../server/log/log.ts';
import { sha256 } from '../../../server/log/photo-store.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { fillSample } from './sample-log.ts';

const folder = join(temporaryFolder(), 'log');
/** More of them: `npm run bench -- faults`. */
const KILLS = 2;
const script = new URL('./keep-ends.ts', import.meta.url).pathname;

/** Starts keeping, kills the process some time after the first end was kept, and tells what it said. */
function keepUntilKilled(first: number, afterMs: number): Promise<number[]> {
  const child = spawn(process.execPath, [
    '--import',
    import.meta.resolve('tsx'),
    script,
    folder,
    String(first),
    'photos',
  ]);
  let said = '';
  child.stdout.once('data', () => setTimeout(() => child.kill('SIGKILL'), afterMs));
  child.stdout.on('data', (chunk: Buffer) => (said += chunk.toString()));
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    // Only whole lines count as said.
    child.on('close', () => resolve(said.split('\n').slice(0, -1).map(Number)));
  });
}

it(
  'an end that was said to be kept survives a kill at any point',
  { timeout: 300_000 },
  async () => {
    const start = await Log.open(folder);
    await fillSample(start);
    await start.close();
    const said: number[] = [];
    for (let kill = 0; kill < KILLS; kill++) {
      said.push(...(await keepUntilKilled(said.length + kill, (kill * 37) % 211)));
      const log = await Log.open(folder);
      expect(await log.isSound()).toBe(true);
      const ends = new Map((await log.ends()).map((end) => [end.id, end]));
      for (const number of said) {
        const end = ends.get(`ilka-end-${number}`);
        expect(end?.arrows).toHaveLength(3);
        expect(sha256(await log.photos.read(end!.photo!.file))).toBe(end!.photo!.sha256);
      }
      // Beyond what was said, at most the one that was being kept.
      expect(ends.size - said.length).toBeLessThanOrEqual(kill + 1);
      await log.close();
    }
    expect(said.length).toBeGreaterThanOrEqual(KILLS);
  },
);
