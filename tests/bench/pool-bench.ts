import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { readingJobSchema } from '../../server/reading/reading-job.ts';
import { ReadingPool } from '../../server/reading/reading-pool.ts';
import { memoryOfChildren } from './memory-of-children.ts';
import { PHOTO_FOLDERS } from './reading-bench.ts';

export interface PoolBenchOptions {
  readonly folder?: string | undefined;
  /** Photos read by one worker and again by two. */
  readonly timed?: number;
  /** Readings by one worker over which its memory is watched. */
  readonly watched?: number;
}

const WARM_UP = 6;

/** Two workers against one, and the memory of one over many readings. */
export async function poolBench(options: PoolBenchOptions = {}): Promise<void> {
  const folder = options.folder ?? PHOTO_FOLDERS.find((path) => existsSync(path))!;
  const photos = readdirSync(folder)
    .filter((file) => file.endsWith('.jpg'))
    .map((file) => join(folder, file));
  const job = (i: number) =>
    readingJobSchema.parse({
      photo: { path: photos[i % photos.length]! },
      request: { face: 'wa80', shaftMm: 5.5, fletched: 3, bare: 2 },
    });

  const timed = options.timed ?? 24;
  const seconds: number[] = [];
  for (const workers of [1, 2]) {
    const pool = new ReadingPool({ workers });
    // The first readings of a worker load it, and its code is compiled as they go.
    await Promise.all(Array.from({ length: WARM_UP * workers }, (_, i) => pool.read(job(i))));
    const start = performance.now();
    await Promise.all(Array.from({ length: timed }, (_, i) => pool.read(job(i))));
    seconds.push((performance.now() - start) / 1000);
    await pool.close();
  }
  console.log(`\n${timed} photos of ${folder} by one worker and by two, warm`);
  console.table({
    oneWorkerS: Number(seconds[0]!.toFixed(1)),
    twoWorkersS: Number(seconds[1]!.toFixed(1)),
    ratio: Number((seconds[0]! / seconds[1]!).toFixed(2)),
  });

  const watched = options.watched ?? 500;
  const pool = new ReadingPool({ workers: 1 });
  const few = photos.slice(0, 4);
  const rows: Record<string, { rssMb: number }> = {};
  for (let i = 0; i < watched; i++) {
    await pool.read({ ...job(0), photo: { path: few[i % few.length]! } });
    if ((i + 1) % Math.max(1, Math.floor(watched / 10)) === 0) {
      rows[`after ${i + 1}`] = { rssMb: memoryOfChildren('VmRSS') };
    }
  }
  await pool.close();
  console.log(`\nMemory of one worker over ${watched} readings`);
  console.table(rows);
}
