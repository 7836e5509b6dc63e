import sharp from 'sharp';
import { decodePhoto } from './decode-photo.ts';
import { PhotoError, type PhotoErrorCode } from './photo-error.ts';

/** Visually lossless; a stored photo is for looking at again, its marks are kept apart. */
const JPEG_QUALITY = 90;

/** What became of a photo. Plain data: it crosses from a worker to the main thread. */
export type CleanedPhoto =
  | { readonly ok: true; readonly jpeg: Uint8Array }
  | { readonly ok: false; readonly code: PhotoErrorCode; readonly message: string };

/** A photo decoded and written anew, which drops every tag it carried; upright, as JPEG. */
export default async function cleanPhoto(bytes: Uint8Array): Promise<CleanedPhoto> {
  try {
    const { width, height, data } = (await decodePhoto(bytes)).raster;
    const jpeg = await sharp(data, { raw: { width, height, channels: 4 } })
      .removeAlpha()
      .jpeg({ quality: JPEG_QUALITY })
      .toBuffer();
    return { ok: true, jpeg };
  } catch (error) {
    if (!(error instanceof PhotoError)) throw error;
    return { ok: false, code: error.code, message: error.message };
  }
}
