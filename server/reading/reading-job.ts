import { z } from 'zod';
import { photoSourceSchema } from '../decode/photo-source.ts';
import { readingRequestSchema, usualSizesSchema } from '../../src/request/request.ts';

/** What a worker is handed: one photo to read, by path or by content. */
export const readingJobSchema = z.object({
  photo: photoSourceSchema,
  before: photoSourceSchema.optional(),
  /** The same end from somewhere else. */
  also: photoSourceSchema.optional(),
  /** May show the same face before this end: used where the reading gains by it. */
  earlier: photoSourceSchema.optional(),
  request: readingRequestSchema,
  sizes: usualSizesSchema.default({}),
});
export type ReadingJob = z.infer<typeof readingJobSchema>;

/** The fields of a job that are photos. */
export const PHOTOS_OF_JOB = ['photo', 'before', 'also', 'earlier'] as const;
export type PhotoOfJob = (typeof PHOTOS_OF_JOB)[number];
