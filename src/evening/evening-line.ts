import { z } from 'zod';
import { readingResultSchema } from '../reading/reading.ts';
import { readingRequestSchema } from '../request/request.ts';
import { lookAtFailure, lookSchema, needsLook } from './needs-look.ts';

const word = z.string().max(200).default('');
const number = z
  .union([
    z.int(),
    z
      .string()
      .regex(/^\d{1,6}$/)
      .transform(Number),
  ])
  .optional()
  .catch(undefined);

/** A line of RESULTS.jsonl as sheets and tables use it; lines without the added fields are taken too. */
export const eveningLineSchema = readingResultSchema
  .and(
    z.object({
      archer: word,
      bow: word,
      session: number,
      end: number,
      takenAt: z.string().max(40).optional(),
      beforePhoto: z.string().optional(),
      request: readingRequestSchema.prefault({}),
      look: lookSchema.optional(),
    }),
  )
  .transform((line) => ({
    ...line,
    look:
      line.look ??
      (line.ok ? needsLook(line.reading, line.request) : lookAtFailure(line.error.message)),
  }));
export type EveningLine = z.infer<typeof eveningLineSchema>;
