import { z } from 'zod';
import { archerSchema, endSchema, sessionSchema } from '../../src/tuning/record/session.ts';
import { bowSchema, setUpSchema } from '../../src/tuning/bow/set-up.ts';

/** Name of the entry that holds everything but the photos. */
export const ARCHIVE_ENTRY = 'endwise-log.json';

/** Raised when an older endwise could not read what a newer one writes. */
export const ARCHIVE_VERSION = 1;

const hash = z.string().regex(/^[0-9a-f]{64}$/);

/** What an archive's photos are called; nothing else is taken out of one. */
export const PHOTO_FILE = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}\.jpg$/;

export const archiveSchema = z.object({
  format: z.literal('endwise-log'),
  version: z.int().min(1),
  exportedAt: z.iso.datetime({ offset: true }),
  archers: z.array(archerSchema),
  bows: z.array(bowSchema),
  setUps: z.array(setUpSchema),
  sessions: z.array(sessionSchema),
  ends: z.array(
    endSchema.extend({
      photo: z.object({ file: z.string().regex(PHOTO_FILE), sha256: hash }).nullable(),
      sourceSha256: hash.nullable(),
    }),
  ),
});
export type Archive = z.infer<typeof archiveSchema>;
