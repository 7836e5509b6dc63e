import { z } from 'zod';
import { readingSchema } from '../../src/reading/reading.ts';
import { endRecordSchema } from '../state/end-record.ts';
import { keptSettingsSchema } from '../state/settings-at-first.ts';

/** A kept end: the corrected reading, who shot it, and whether the shared log has it. */
export const keptEndSchema = endRecordSchema.extend({
  settings: keptSettingsSchema,
  reading: readingSchema,
  keptAt: z.iso.datetime(),
  /** Changes of an end that was kept already count up; the log takes each revision once. */
  revision: z.int().min(1),
  sentRevision: z.int().min(0),
  /** The log's version of this end as it was handed over last; null where that is not known. */
  logVersion: z.string().nullable().default(null),
  /** What somebody else has done to it in the log since, until a person chooses. */
  conflict: z.enum(['changed', 'deleted']).nullable().default(null),
});
export type KeptEnd = z.infer<typeof keptEndSchema>;
