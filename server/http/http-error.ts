/** An answer that is no success: a status, a code for programs and a sentence for people. */
export class HttpError extends Error {
  override readonly name = 'HttpError';
  readonly status: number;
  readonly code: string;

  constructor(status: number, code: string, message: string) {
    super(message);
    this.status = status;
    this.code = code;
  }
}
