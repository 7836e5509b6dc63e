import type { Reading } from '../../src/reading/reading.ts';
import type { ReadingRequest, UsualSizes } from '../../src/request/request.ts';
import type { DecodedPhoto } from '../decode/decode-photo.ts';

export interface PhotoReaderOptions {
  /** A photo of the same face before this end was shot. */
  readonly before?: DecodedPhoto;
  /** A photo of the same end from somewhere else. */
  readonly also?: DecodedPhoto;
  /** The printed sizes that this archer uses, for faces that look alike in photos. */
  readonly sizes?: UsualSizes;
  readonly signal?: AbortSignal;
}

/** Reads one decoded photo; throws ReadingError where the photo is the reason that it cannot. */
export type PhotoReader = (
  photo: DecodedPhoto,
  request: ReadingRequest,
  options: PhotoReaderOptions,
) => Promise<Reading>;
