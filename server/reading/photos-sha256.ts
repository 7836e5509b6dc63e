import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { PHOTOS_OF_JOB, type ReadingJob } from './reading-job.ts';

/** A hash of all photos of a job: of which there are, and of their bytes. Hexadecimal. */
export async function photosSha256(job: ReadingJob): Promise<string> {
  const whole = createHash('sha256');
  for (const name of PHOTOS_OF_JOB) {
    const source = job[name];
    if (source === undefined) continue;
    const one = createHash('sha256');
    if ('bytes' in source) one.update(source.bytes);
    else for await (const chunk of createReadStream(source.path)) one.update(chunk as Buffer);
    whole.update(`${name}:${one.digest('hex')}\n`);
  }
  return whole.digest('hex');
}
