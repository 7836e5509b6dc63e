import type { OpenCv } from './load-open-cv.ts';

interface Deletable {
  delete(): void;
}

/** Takes charge of an OpenCV object and hands it back. */
export type Keep = <T extends Deletable>(object: T) => T;

/**
 * Runs `work` and then deletes every OpenCV object it asked to `keep`, in reverse order, also when
 * it throws. OpenCV's errors arrive as numbers; they leave here as Errors with its message.
 */
export function withMats<T>(cv: OpenCv, work: (keep: Keep) => T): T {
  const kept: Deletable[] = [];
  try {
    return work((object) => {
      kept.push(object);
      return object;
    });
  } catch (error) {
    if (typeof error !== 'number') throw error;
    const { msg } = (
      cv as unknown as { exceptionFromPtr(pointer: number): { msg: string } }
    ).exceptionFromPtr(error);
    throw new Error(`OpenCV: ${msg}`, { cause: error });
  } finally {
    for (const object of kept.reverse()) object.delete();
  }
}
