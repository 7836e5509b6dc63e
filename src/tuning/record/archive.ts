import { z } from 'zod';
import { archerSchema, endSchema, sessionSchema } from './session.ts';
import { bowSchema, setUpSchema } from '../bow/set-up.ts';

/** Name of the entry that holds everything but the photos. */
export const ARCHIVE_ENTRY = 'endwise-log.json';

/** Raised when an older endwise could not read what a newer one writes. */
export const ARCHIVE_VERSION = 2;

/** From this version on a distance that nobody said is null, and none is made up. */
export const UNSAID_DISTANCES_SINCE = 2;

const hash = z.string().regex(/^[0-9a-f]{64}$/);

/** What only the page knows of its ends, in an archive that it wrote: rings and marks in the photo. */
export const PAGE_ENTRY = 'endwise-page.json';

/** Lists what could not be exported, for a person. */
export const MISSING_ENTRY = 'missing.txt';

/** More than these are no log of anybody's: a large club's hundred years. */
export const MOST_RECORDS = {
  archers: 20_000,
  bows: 100_000,
  setUps: 500_000,
  sessions: 500_000,
  ends: 2_000_000,
} as const;

/** Larger records are not unpacked by who holds them whole, bytes; a squad's ten years stay below. */
export const MAX_RECORD_BYTES = 128 * 1024 * 1024;

/** What an archive's photos are called; nothing else is taken out of one. */
export const PHOTO_FILE = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}\.jpg$/;

export const archiveSchema = z.object({
  format: z.literal('endwise-log'),
  version: z.int().min(1),
  exportedAt: z.iso.datetime({ offset: true }),
  archers: z.array(archerSchema).max(MOST_RECORDS.archers),
  bows: z.array(bowSchema).max(MOST_RECORDS.bows),
  setUps: z.array(setUpSchema).max(MOST_RECORDS.setUps),
  sessions: z.array(sessionSchema).max(MOST_RECORDS.sessions),
  ends: z
    .array(
      endSchema.extend({
        photo: z.object({ file: z.string().regex(PHOTO_FILE), sha256: hash }).nullable(),
        sourceSha256: hash.nullable(),
      }),
    )
    .max(MOST_RECORDS.ends),
});
export type Archive = z.infer<typeof archiveSchema>;
