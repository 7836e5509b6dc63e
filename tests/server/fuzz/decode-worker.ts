import { decodePhoto } from '../../../server/decode/decode-photo.ts';
import { explainFailure } from '../../../server/reading/explain-failure.ts';
import type { Outcome } from '../../../server/reading/read-job.ts';
import type { ReadingJob } from '../../../server/reading/reading-job.ts';

/** Decodes only: mutated bytes meet the decoders, thousands of times in minutes. */
export default async function run(job: ReadingJob): Promise<Outcome> {
  const start = performance.now();
  const elapsed = () => Math.round(performance.now() - start);
  try {
    await decodePhoto('bytes' in job.photo ? job.photo.bytes : new Uint8Array());
    return { ok: false, elapsedMs: elapsed(), error: { code: 'decoded', message: 'Decoded.' } };
  } catch (error) {
    return { ok: false, elapsedMs: elapsed(), error: explainFailure(error) };
  }
}
