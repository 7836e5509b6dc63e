import { loadPhotoReader } from './load-photo-reader.ts';
import { readJob, type Outcome } from './read-job.ts';
import type { ReadingJob } from './reading-job.ts';

/** What takes its time before the first photo; failing to load is told with the photo. */
export async function prepare(): Promise<void> {
  await loadPhotoReader().catch(() => undefined);
}

/** What a worker thread runs for each photo. */
export default function run(job: ReadingJob): Promise<Outcome> {
  return readJob(job, loadPhotoReader());
}
