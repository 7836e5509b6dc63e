import { z } from 'zod';
import { readingRequestSchema, usualSizesSchema } from '../../src/request/request.ts';

const sourceSchema = z.union([
  z.object({ path: z.string() }),
  z.object({ bytes: z.instanceof(Uint8Array) }),
]);
export type PhotoSource = z.infer<typeof sourceSchema>;

/** What a worker is handed: one photo to read, by path or by content. */
export const readingJobSchema = z.object({
  photo: sourceSchema,
  before: sourceSchema.optional(),
  /** May show the same face before this end: used where the reading gains by it. */
  earlier: sourceSchema.optional(),
  request: readingRequestSchema,
  sizes: usualSizesSchema.default({}),
});
export type ReadingJob = z.infer<typeof readingJobSchema>;
