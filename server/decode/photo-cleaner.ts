import { ProcessPool } from '../processes/process-pool.ts';
import type { CleanedPhoto, CleaningJob } from './clean-photo.ts';
import { MAX_DECODE_SECONDS } from './limits.ts';
import { PhotoError } from './photo-error.ts';
import type { PhotoSource } from './photo-source.ts';

/** The worker starts, the photo is tried twice and written once. */
const LIMIT_SECONDS = 4 * MAX_DECODE_SECONDS;
const IDLE_MS = 10_000;
/**
 * JavaScript heap. Pixels lie outside it: what bounds them is the number of pixels that is decoded, and
 * that photos are cleaned one at a time.
 */
const HEAP_MB = 256;

/** Cleans photos from strangers in a process of its own, one at a time. */
export class PhotoCleaner {
  readonly #pool = new ProcessPool<CleaningJob, CleanedPhoto>({
    module: new URL('./clean-photo.ts', import.meta.url),
    processes: 1,
    heapMb: HEAP_MB,
    idleMs: IDLE_MS,
  });
  #last: Promise<unknown> = Promise.resolve();

  /**
   * Writes a photo to `to`, durably: upright, as JPEG, without any tag.
   * @throws PhotoError; an error with a system's code where the disk would not have it
   */
  clean(photo: PhotoSource, to: string): Promise<{ sha256: string; sourceSha256: string }> {
    // The time limit of a photo runs from its turn.
    const mine = this.#last.then(() => this.#cleanNow({ photo, to }));
    this.#last = mine.catch(() => undefined);
    return mine;
  }

  async #cleanNow(job: CleaningJob) {
    let cleaned: CleanedPhoto;
    try {
      cleaned = await this.#pool.run(job, { signal: AbortSignal.timeout(LIMIT_SECONDS * 1000) });
    } catch (cause) {
      throw new PhotoError(
        'damaged',
        'The photo brought its decoder down: send it as a normal JPEG.',
        { cause },
      );
    }
    if (cleaned.ok) return { sha256: cleaned.sha256, sourceSha256: cleaned.sourceSha256 };
    if ('code' in cleaned) throw new PhotoError(cleaned.code, cleaned.message);
    throw Object.assign(new Error('The cleaned photo could not be written.'), {
      code: cleaned.storageCode,
    });
  }

  async close(): Promise<void> {
    await this.#last;
    await this.#pool.close();
  }
}
