import { z } from 'zod';
import { readingRequestSchema } from '../../src/reading/request.ts';
import { readingSchema } from '../../src/reading/reading.ts';

const pair = z.tuple([z.number(), z.number()]);

/** A face placed by a person: its centre and points on one ring of known radius. */
export const byHandSchema = z.object({
  centrePx: pair,
  ringPx: z.array(pair).min(2),
  ringRadiusMm: z.number().positive(),
});
export type ByHand = z.infer<typeof byHandSchema>;

export const toReaderSchema = z.discriminatedUnion('type', [
  z.object({ type: z.literal('warm') }),
  z.object({
    type: z.literal('read'),
    photo: z.instanceof(Blob),
    before: z.instanceof(Blob).nullable(),
    request: readingRequestSchema,
    byHand: byHandSchema.nullable(),
  }),
]);
export type ToReader = z.infer<typeof toReaderSchema>;

export const fromReaderSchema = z.discriminatedUnion('type', [
  z.object({ type: z.literal('ready') }),
  z.object({ type: z.literal('stage'), stage: z.string() }),
  z.object({ type: z.literal('done'), reading: readingSchema, elapsedMs: z.number() }),
  z.object({ type: z.literal('failed'), code: z.string(), message: z.string() }),
]);
export type FromReader = z.infer<typeof fromReaderSchema>;
