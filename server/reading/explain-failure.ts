import type { FaceId } from '../../src/face/faces.ts';
import { ReadingError } from '../../src/request/reading-error.ts';
import { PhotoError } from '../decode/photo-error.ts';

/** Why there is no reading: a code for programs, a sentence for people. */
export interface Failure {
  readonly code: string;
  readonly message: string;
  /** The face that the photo seems to show, where another was said. */
  readonly looksLike?: FaceId;
}

/** A person's own mistakes keep their sentence; anything else is a fault of ours and says so. */
export function explainFailure(error: unknown): Failure {
  if (error instanceof PhotoError || error instanceof ReadingError) {
    const { code, message } = error;
    const looksLike = error instanceof ReadingError ? error.looksLike : null;
    return { code, message, ...(looksLike === null ? {} : { looksLike }) };
  }
  if (process.env['ENDWISE_DEBUG'] !== undefined) console.error(error);
  return {
    code: 'internal',
    message:
      'The photo could not be read because of a fault in endwise, not in the photo; ' +
      'with ENDWISE_DEBUG=1 set, the details are printed.',
  };
}
