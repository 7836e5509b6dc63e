import { z } from 'zod';
import { FACES, FACE_IDS, type Face } from '../../src/face/faces.ts';
import { readingRequestSchema } from '../../src/reading/request.ts';

const FAMILIES = [...new Set(FACE_IDS.map((id) => FACES[id].family))] as [
  Face['family'],
  ...Face['family'][],
];

/** Which printed size an archer shoots, by family of faces that look alike. */
export const sizesSchema = z.partialRecord(z.enum(FAMILIES), z.enum(FACE_IDS));

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
  sizes: sizesSchema.default({}),
});
export type ReadingJob = z.infer<typeof readingJobSchema>;
