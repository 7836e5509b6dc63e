/** Why a file could not be turned into pixels, as a code for programs. */
export type PhotoErrorCode =
  | 'no-file'
  | 'not-a-file'
  | 'empty-file'
  | 'file-too-large'
  | 'not-a-photo'
  | 'wrong-format'
  | 'animated'
  | 'too-many-pixels'
  | 'truncated'
  | 'damaged';

/** Thrown while decoding. `message` says what is wrong and what to do, on one line. */
export class PhotoError extends Error {
  override readonly name = 'PhotoError';
  readonly code: PhotoErrorCode;

  constructor(code: PhotoErrorCode, message: string, options?: ErrorOptions) {
    super(message, options);
    this.code = code;
  }
}
