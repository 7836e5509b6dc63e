import type { Outcome } from '../../../server/reading/read-job.ts';
import type { ReadingJob } from '../../../server/reading/reading-job.ts';

/** Stands in for the real worker where only its dying, hanging and queueing is under test. */
export default async function run(job: ReadingJob): Promise<Outcome> {
  const word = 'path' in job.photo ? job.photo.path : '';
  if (word === 'hang') for (;;);
  if (word === 'exit') process.exit(3);
  // As the system does with a process at rest when memory is short.
  if (word === 'die-at-rest') setTimeout(() => process.exit(9), 60);
  // As native code does that finds its memory spoilt.
  if (word === 'crash') process.abort();
  if (word === 'hoard') {
    const hoard: unknown[] = [];
    for (;;) hoard.push(new Array(10_000).fill(hoard.length));
  }
  // What is uploaded takes long enough to wait in line, however slowly a busy machine lets it come.
  const elapsedMs = word ? 30 : 200;
  await new Promise((resolve) => setTimeout(resolve, elapsedMs));
  return { ok: false, elapsedMs, error: { code: 'no-face', message: word } };
}
