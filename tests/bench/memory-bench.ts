import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { readingJobSchema } from '../../server/reading/reading-job.ts';
import { ReadingPool } from '../../server/reading/reading-pool.ts';
import { truthsIn } from '../measure/truth.ts';
import { memoryOfChildren } from './memory-of-children.ts';
import { PHOTO_FOLDERS } from './reading-bench.ts';

interface MemoryBenchOptions {
  readonly folder?: string;
  /** Only photos whose name begins with this. */
  readonly only?: string;
  /** @default 500 */
  readonly readings?: number;
}

/** Memory is looked at after the first reading, and after every so many. */
const STEP = 50;

/** Memory of one worker over many readings of different photos in turn: it shall not grow. */
export async function memoryBench(options: MemoryBenchOptions = {}): Promise<void> {
  const { only = '', readings = 500 } = options;
  const folder = options.folder ?? PHOTO_FOLDERS.find((path) => existsSync(path))!;
  const truths = truthsIn(folder).filter(({ photo }) => photo.startsWith(only));
  const pool = new ReadingPool({ workers: 1 });
  try {
    for (let i = 0; i < readings; i++) {
      const { photo, face, shaft_mm: shaftMm } = truths[i % truths.length]!;
      const job = { photo: { path: join(folder, photo) }, request: { face, shaftMm } };
      const outcome = await pool.read(readingJobSchema.parse(job));
      if (!outcome.ok) console.log(`${photo}: ${outcome.error.message}`);
      if (i > 0 && (i + 1) % STEP !== 0) continue;
      console.log(
        `after ${i + 1} readings: ${memoryOfChildren('VmRSS')} MB, at most ${memoryOfChildren('VmHWM')} MB`,
      );
    }
  } finally {
    await pool.close();
  }
}
