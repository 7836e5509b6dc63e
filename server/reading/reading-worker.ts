import { loadPhotoReader } from './load-photo-reader.ts';
import { readJob, type Outcome } from './read-job.ts';
import type { ReadingJob } from './reading-job.ts';

/** There are as many workers as cores. */
const THREADS = 1;

/** What takes its time before the first photo; failing to load is told with the photo. */
export async function prepare(): Promise<void> {
  await loadPhotoReader(THREADS).catch(() => undefined);
}

/** What a worker runs for each photo. */
export default function run(job: ReadingJob): Promise<Outcome> {
  return readJob(job, loadPhotoReader(THREADS));
}
