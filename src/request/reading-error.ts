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
  | 'cancelled';

/** Thrown by the core. `message` says what is wrong and what to do, in one sentence or two. */
export class ReadingError extends Error {
  override readonly name = 'ReadingError';
  readonly code: ReadingErrorCode;

  constructor(code: ReadingErrorCode, message: string) {
    super(message);
    this.code = code;
  }
}
