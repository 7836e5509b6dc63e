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

/** More than these are no log of anybody's. */
const MOST = { archers: 2_000, bows: 20_000, setUps: 100_000, sessions: 100_000, ends: 300_000 };

/** Larger records are not unpacked, bytes; a squad's ten years stay below. */
export const MAX_RECORD_BYTES = 128 * 1024 * 1024;

/** Objects and lists in the records: each end has one for itself and a few for each arrow. */
export const MAX_RECORD_VALUES = 8_000_000;

/** What an archive's photos are called; nothing else is taken out of one. */
export const PHOTO_FILE = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}\.jpg$/;

export const archiveSchema = z.object({
  format: z.literal('endwise-log'),
  version: z.int().min(1),
  exportedAt: z.iso.datetime({ offset: true }),
  archers: z.array(archerSchema).max(MOST.archers),
  bows: z.array(bowSchema).max(MOST.bows),
  setUps: z.array(setUpSchema).max(MOST.setUps),
  sessions: z.array(sessionSchema).max(MOST.sessions),
  ends: z
    .array(
      endSchema.extend({
        photo: z.object({ file: z.string().regex(PHOTO_FILE), sha256: hash }).nullable(),
        sourceSha256: hash.nullable(),
      }),
    )
    .max(MOST.ends),
});
export type Archive = z.infer<typeof archiveSchema>;

/** What an export says beside: of no use to an import, nothing of it is lost. */
export interface ArchiveNotes {
  /** What could not be exported, each a sentence. */
  readonly missing: readonly string[];
  /** Records that hang on something that is missing. */
  readonly unplaced: unknown;
}
