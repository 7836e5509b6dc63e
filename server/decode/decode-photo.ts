import { focalOfExif } from '../../src/fit/camera/focal-of-exif.ts';
import sharp, { type Metadata } from 'sharp';
import type { Raster } from '../../src/raster/raster.ts';
import { decodeHeic } from './decode-heic.ts';
import { exifHints } from './exif-hints.ts';
import { MAX_DECODE_SECONDS, MAX_FILE_BYTES, MAX_PIXELS } from './limits.ts';
import { PhotoError } from './photo-error.ts';
import { photoKind, type Kind } from '../../src/photo-files/photo-kind.ts';
import {
  pictureFormat,
  type PhotoKind,
  type PictureFormat,
} from '../../src/photo-files/picture-formats.ts';
import { tooManyPixels } from './too-many-pixels.ts';

export interface DecodedPhoto {
  /** Upright, sRGB. */
  readonly raster: Raster;
  readonly kind: PhotoKind;
  /** Focal length in pixels of the raster, where EXIF tells. */
  readonly focalPx?: number;
  /** By the camera's own clock, ISO 8601 without a zone. */
  readonly takenAt?: string;
  /** What a person should know about the file, each a sentence. */
  readonly notes: readonly string[];
}

/**
 * Photo bytes to upright pixels. The format is told from the content; size and page count are checked
 * in the header before any pixel is decoded.
 * @throws PhotoError
 */
export async function decodePhoto(bytes: Uint8Array): Promise<DecodedPhoto> {
  if (bytes.length === 0) {
    throw new PhotoError('empty-file', 'The file is empty: copy the photo again.');
  }
  if (bytes.length > MAX_FILE_BYTES) throw fileTooLarge();
  const kind = photoKind(bytes);
  if (!kind.readable) throw notReadable(kind);

  const [hints, { raster, notes }] = await Promise.all([
    exifHints(bytes, kind.kind),
    DECODERS[pictureFormat(kind.kind).decoder](bytes),
  ]);
  const focalPx = focalOfExif(hints.focalTags ?? {}, [raster.width, raster.height]);
  return {
    raster,
    kind: kind.kind,
    notes,
    ...(focalPx === undefined ? {} : { focalPx }),
    ...(hints.takenAt === undefined ? {} : { takenAt: hints.takenAt }),
  };
}

const DECODERS: Record<
  PictureFormat['decoder'],
  (bytes: Uint8Array) => Promise<{ raster: Raster; notes: string[] }>
> = {
  sharp: decodeWithSharp,
  libheif: async (bytes) => ({ raster: await decodeHeic(bytes), notes: [] }),
};

/** The refusal of a file by its length, for callers that know it before they have the bytes. */
export function fileTooLarge(): PhotoError {
  return new PhotoError(
    'file-too-large',
    `The file is larger than ${MAX_FILE_BYTES / 1024 / 1024} MB: send the photo as a normal JPEG.`,
  );
}

function notReadable(kind: Kind & { readable: false }): PhotoError {
  switch (kind.kind) {
    case null:
      return new PhotoError(
        'not-a-photo',
        'The file is not a photo: JPEG, PNG, WebP and HEIC are read.',
      );
    case 'animated PNG':
    case 'HEIC sequence':
    case 'GIF':
    case 'video':
      return new PhotoError(
        'animated',
        `The file is a ${kind.kind}, not a single photo: send a still.`,
      );
    default: {
      const article = /^[AS]/.test(kind.kind) ? 'an' : 'a';
      return new PhotoError(
        'wrong-format',
        `The file is ${article} ${kind.kind}: JPEG, PNG, WebP and HEIC photos are read.`,
      );
    }
  }
}

async function decodeWithSharp(bytes: Uint8Array): Promise<{ raster: Raster; notes: string[] }> {
  const header = await readHeader(bytes);
  const { width, height } = header;
  if (width * height > MAX_PIXELS) throw tooManyPixels(width, height);
  if ((header.pages ?? 1) > 1) {
    throw new PhotoError('animated', 'The file is animated, not a single photo: send a still.');
  }
  try {
    return { raster: await pixels(bytes, 'warning'), notes: [] };
  } catch (error) {
    if (isTruncation(error)) throw truncated(error);
  }
  // Some phones leave stray bytes behind that libraries warn of and that harm nothing.
  try {
    const raster = await pixels(bytes, 'error');
    return { raster, notes: ['The photo file is damaged in places; the reading may suffer.'] };
  } catch (error) {
    throw isTruncation(error) ? truncated(error) : damaged(error);
  }
}

async function readHeader(bytes: Uint8Array): Promise<Metadata> {
  try {
    return await sharp(bytes, { limitInputPixels: false }).metadata();
  } catch (error) {
    throw isTruncation(error) ? truncated(error) : damaged(error);
  }
}

async function pixels(bytes: Uint8Array, failOn: 'warning' | 'error'): Promise<Raster> {
  const { data, info } = await sharp(bytes, { failOn, limitInputPixels: MAX_PIXELS })
    .timeout({ seconds: MAX_DECODE_SECONDS })
    .autoOrient()
    .toColourspace('srgb')
    .flatten({ background: 'white' })
    .ensureAlpha()
    .raw({ depth: 'uchar' })
    .toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, data };
}

function isTruncation(error: unknown): boolean {
  return (
    error instanceof Error &&
    /premature end|truncated|end of (file|stream)|read error/i.test(error.message)
  );
}

function truncated(cause: unknown): PhotoError {
  return new PhotoError(
    'truncated',
    'The photo file is cut short: copy or send it again in full.',
    { cause },
  );
}

function damaged(cause: unknown): PhotoError {
  return new PhotoError(
    'damaged',
    'The photo file is damaged and cannot be decoded: copy or send it again.',
    { cause },
  );
}
