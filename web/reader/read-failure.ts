import type { FaceId } from '../../src/face/faces.ts';

/** A photo that could not be read, with a sentence for the person. */
export class ReadFailure extends Error {
  override readonly name = 'ReadFailure';
  readonly code: string;
  /** The face that the photo seems to show, where another was said. */
  readonly looksLike: FaceId | null;

  constructor(code: string, message: string, looksLike: FaceId | null = null) {
    super(message);
    this.code = code;
    this.looksLike = looksLike;
  }
}
