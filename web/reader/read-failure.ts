/** A photo that could not be read, with a sentence for the person. */
export class ReadFailure extends Error {
  override readonly name = 'ReadFailure';
  readonly code: string;

  constructor(code: string, message: string) {
    super(message);
    this.code = code;
  }
}
