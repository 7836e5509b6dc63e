import { createHash } from 'node:crypto';
import sharp from 'sharp';
import { writeFileDurably } from '../files/write-file-durably.ts';
import { decodePhoto } from './decode-photo.ts';
import { PhotoError, type PhotoErrorCode } from './photo-error.ts';
import type { PhotoSource } from './photo-source.ts';
import { photoBytes } from './read-photo-file.ts';

/** Visually lossless; a stored photo is for looking at again, its marks are kept apart. */
const JPEG_QUALITY = 90;

export interface CleaningJob {
  readonly photo: PhotoSource;
  /** Where the cleaned photo goes. */
  readonly to: string;
}

/** What became of a photo. Plain data: it crosses from a worker to the main process. */
export type CleanedPhoto =
  | { readonly ok: true; readonly sha256: string; readonly sourceSha256: string }
  | { readonly ok: false; readonly code: PhotoErrorCode; readonly message: string }
  /** The disk would not have it: its own code for that. */
  | { readonly ok: false; readonly storageCode: string };

/** Cleans a photo and writes it durably; neither its bytes nor its pixels leave this process. */
export default async function cleanPhotoFile({ photo, to }: CleaningJob): Promise<CleanedPhoto> {
  try {
    const bytes = 'path' in photo ? await photoBytes(photo.path) : photo.bytes;
    const jpeg = await cleanPhoto(bytes);
    await writeFileDurably(to, jpeg);
    return { ok: true, sha256: sha256(jpeg), sourceSha256: sha256(bytes) };
  } catch (error) {
    if (error instanceof PhotoError) return { ok: false, code: error.code, message: error.message };
    const { code } = error as NodeJS.ErrnoException;
    if (typeof code === 'string') return { ok: false, storageCode: code };
    throw error;
  }
}

/**
 * A photo decoded and written anew, which drops every tag it carried; upright, as JPEG.
 * @throws PhotoError
 */
export async function cleanPhoto(bytes: Uint8Array): Promise<Buffer> {
  const { width, height, data } = (await decodePhoto(bytes)).raster;
  return sharp(data, { raw: { width, height, channels: 4 } })
    .removeAlpha()
    .jpeg({ quality: JPEG_QUALITY })
    .toBuffer();
}

function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
