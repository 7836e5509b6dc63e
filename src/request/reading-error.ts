import type { FaceId } from '../face/faces.ts';

/** Why a photo could not be read, as a code for programs and a sentence for people. */
export type ReadingErrorCode =
  | 'no-face'
  | 'too-steep'
  | 'too-few-rings'
  | 'too-blurred'
  | 'too-small'
  | 'centre-outside'
  | 'wrong-face'
  | 'before-differs'
  | 'also-differs'
  | 'no-such-mark'
  | 'number-twice'
  | 'cancelled';

/** Thrown by the core. `message` says what is wrong and what to do, in one sentence or two. */
export class ReadingError extends Error {
  override readonly name = 'ReadingError';
  readonly code: ReadingErrorCode;
  /** The face that the photo seems to show, where another was said. */
  readonly looksLike: FaceId | null;

  constructor(code: ReadingErrorCode, message: string, looksLike: FaceId | null = null) {
    super(message);
    this.code = code;
    this.looksLike = looksLike;
  }
}
