import { readFileSync } from 'node:fs';
import type { Outcome } from '../../../server/reading/read-job.ts';
import type { ReadingJob } from '../../../server/reading/reading-job.ts';

/** Stands in for reading: the result says what the photo's words were; some hang, some crash. */
export default async function run(job: ReadingJob): Promise<Outcome> {
  const words = 'path' in job.photo ? readFileSync(job.photo.path, 'utf8').slice(0, 100) : '';
  if (words === 'hang') for (;;);
  if (words === 'crash') process.abort();
  const [, ms] = /^wait (\d+)/.exec(words) ?? [];
  await new Promise((resolve) => setTimeout(resolve, Number(ms ?? 0)));
  return { ok: false, elapsedMs: Number(ms ?? 0), error: { code: 'no-face', message: words } };
}
