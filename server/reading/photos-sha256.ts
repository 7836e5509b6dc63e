import { createHash } from 'node:crypto';
import { sourceSha256 } from '../decode/photo-source.ts';
import { PHOTOS_OF_JOB, type ReadingJob } from './reading-job.ts';

/** A hash of all photos of a job: of which there are, and of their bytes. Hexadecimal. */
export async function photosSha256(job: ReadingJob): Promise<string> {
  const whole = createHash('sha256');
  for (const name of PHOTOS_OF_JOB) {
    const source = job[name];
    if (source === undefined) continue;
    whole.update(`${name}:${await sourceSha256(source)}\n`);
  }
  return whole.digest('hex');
}
