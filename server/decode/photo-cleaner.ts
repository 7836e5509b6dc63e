import { ProcessPool } from '../processes/process-pool.ts';
import type { CleanedPhoto } from './clean-photo.ts';
import { MAX_DECODE_SECONDS } from './limits.ts';
import { PhotoError } from './photo-error.ts';

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
  readonly #pool = new ProcessPool<Uint8Array, CleanedPhoto>({
    module: new URL('./clean-photo.ts', import.meta.url),
    processes: 1,
    heapMb: HEAP_MB,
    idleMs: IDLE_MS,
  });
  #last: Promise<unknown> = Promise.resolve();

  /**
   * Upright, as JPEG, without any tag.
   * @throws PhotoError
   */
  clean(bytes: Uint8Array): Promise<Uint8Array> {
    // The time limit of a photo runs from its turn.
    const mine = this.#last.then(() => this.#cleanNow(bytes));
    this.#last = mine.catch(() => undefined);
    return mine;
  }

  async #cleanNow(bytes: Uint8Array): Promise<Uint8Array> {
    let cleaned: CleanedPhoto;
    try {
      cleaned = await this.#pool.run(bytes, { signal: AbortSignal.timeout(LIMIT_SECONDS * 1000) });
    } catch (cause) {
      throw new PhotoError(
        'damaged',
        'The photo brought its decoder down: send it as a normal JPEG.',
        { cause },
      );
    }
    if (!cleaned.ok) throw new PhotoError(cleaned.code, cleaned.message);
    return cleaned.jpeg;
  }

  async close(): Promise<void> {
    await this.#last;
    await this.#pool.close();
  }
}
