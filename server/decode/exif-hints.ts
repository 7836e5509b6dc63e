import exifr from 'exifr';
import { FOCAL_TAGS } from '../../src/fit/camera/focal-of-exif.ts';
import { hasSoundBoxes } from '../../src/photo-files/has-sound-boxes.ts';
import { pictureFormat, type PhotoKind } from '../../src/photo-files/picture-formats.ts';

/** What a photo's EXIF says that a reading can use. Place and device are never looked at. */
export interface ExifHints {
  /** Tags that tell the focal length, see `focalOfExif`. */
  readonly focalTags?: Readonly<Record<string, unknown>>;
  /** When the photo was taken by the camera's own clock, ISO 8601 without a zone. */
  readonly takenAt?: string;
}

/** Reads the hints; malformed or missing EXIF gives none, it is no reason to refuse a photo. */
export async function exifHints(bytes: Uint8Array, kind: PhotoKind): Promise<ExifHints> {
  if (pictureFormat(kind).hasBoxes && !hasSoundBoxes(bytes)) return {};
  let tags: Record<string, unknown> | undefined;
  try {
    tags = (await exifr.parse(bytes, {
      pick: [...FOCAL_TAGS, 'DateTimeOriginal'],
      reviveValues: false,
    })) as Record<string, unknown> | undefined;
  } catch {
    return {};
  }
  const taken = /^(\d{4}):(\d\d):(\d\d) (\d\d:\d\d:\d\d)/.exec(asText(tags?.['DateTimeOriginal']));
  return {
    ...(tags ? { focalTags: tags } : {}),
    ...(taken ? { takenAt: `${taken[1]}-${taken[2]}-${taken[3]}T${taken[4]}` } : {}),
  };
}

function asText(value: unknown): string {
  return typeof value === 'string' ? value : '';
}
