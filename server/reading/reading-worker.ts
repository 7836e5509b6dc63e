import { loadPhotoReader } from './load-photo-reader.ts';
import { readJob, type Outcome } from './read-job.ts';
import type { ReadingJob } from './reading-job.ts';

/** What a worker thread runs for each photo. */
export default function run(job: ReadingJob): Promise<Outcome> {
  return readJob(job, loadPhotoReader());
}
