import { z } from 'zod';
import { PHOTO_FILE } from '../../src/tuning/record/archive.ts';
import { bowSchema, setUpSchema } from '../../src/tuning/bow/set-up.ts';
import { keptEndSchema } from '../store/kept-end.ts';

/** What the page keeps of an end beside what the log has of it; whether a log has it is left out. */
export const pageRecordSchema = z.object({
  end: keptEndSchema.omit({ sentRevision: true, logVersion: true, conflict: true }),
  /** Its further photos by their keys in the store. */
  photos: z.array(z.tuple([z.string().max(100), z.string().regex(PHOTO_FILE)])).max(2),
});
export type PageRecord = z.infer<typeof pageRecordSchema>;

/** The book as it is here: a log has a bow that two people shoot once for each. */
export const pageBookSchema = z.object({ bows: z.array(bowSchema), setUps: z.array(setUpSchema) });
