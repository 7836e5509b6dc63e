import exifr from 'exifr';
import { hasSoundBoxes } from '../../src/photo-files/has-sound-boxes.ts';
import { pictureFormat, type PhotoKind } from '../../src/photo-files/picture-formats.ts';

/** What a photo's EXIF says that a reading can use. Place and device are never looked at. */
export interface ExifHints {
  /** 35 mm equivalent focal length, mm. */
  readonly focal35Mm?: number;
  /** When the photo was taken by the camera's own clock, ISO 8601 without a zone. */
  readonly takenAt?: string;
}

const LONGEST_LENS_MM = 2000;

/** Reads the hints; malformed or missing EXIF gives none, it is no reason to refuse a photo. */
export async function exifHints(bytes: Uint8Array, kind: PhotoKind): Promise<ExifHints> {
  if (pictureFormat(kind).hasBoxes && !hasSoundBoxes(bytes)) return {};
  let tags: Record<string, unknown> | undefined;
  try {
    tags = (await exifr.parse(bytes, {
      pick: ['FocalLengthIn35mmFormat', 'DateTimeOriginal'],
      reviveValues: false,
    })) as Record<string, unknown> | undefined;
  } catch {
    return {};
  }
  const focal = Number(tags?.['FocalLengthIn35mmFormat']);
  const taken = /^(\d{4}):(\d\d):(\d\d) (\d\d:\d\d:\d\d)/.exec(asText(tags?.['DateTimeOriginal']));
  return {
    ...(focal > 0 && focal < LONGEST_LENS_MM ? { focal35Mm: focal } : {}),
    ...(taken ? { takenAt: `${taken[1]}-${taken[2]}-${taken[3]}T${taken[4]}` } : {}),
  };
}

function asText(value: unknown): string {
  return typeof value === 'string' ? value : '';
}
