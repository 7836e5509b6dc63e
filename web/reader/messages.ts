import { z } from 'zod';
import { FACE_IDS } from '../../src/face/faces.ts';
import { readingRequestSchema, usualSizesSchema } from '../../src/request/request.ts';
import { readingSchema } from '../../src/reading/reading.ts';

const pair = z.tuple([z.number(), z.number()]);

/** A face placed by a person: its centre and points on one ring of known radius. */
export const byHandSchema = z.object({
  centrePx: pair,
  edgesPx: z.tuple([pair, pair]),
  radiusMm: z.number().positive(),
});
export type ByHand = z.infer<typeof byHandSchema>;

export const toReaderSchema = z.discriminatedUnion('type', [
  /** Asks for everything to be loaded. @param rehearse a photo comes soon: code is compiled for it too */
  z.object({ type: z.literal('warm'), rehearse: z.boolean() }),
  /** Asks for a picture that every browser shows. */
  z.object({ type: z.literal('convert'), photo: z.instanceof(Blob) }),
  z.object({
    type: z.literal('read'),
    photo: z.instanceof(Blob),
    before: z.instanceof(Blob).nullable(),
    /** The same end from somewhere else. */
    also: z.instanceof(Blob).nullable(),
    /** Focal length in pixels, where the photo's file no longer tells it. */
    focalPx: z.number().positive().nullable(),
    request: readingRequestSchema,
    byHand: byHandSchema.nullable(),
    /** Where in the photo the wanted face is, among several. */
    pick: pair.nullable(),
    sizes: usualSizesSchema,
  }),
]);
export type ToReader = z.infer<typeof toReaderSchema>;

export const fromReaderSchema = z.discriminatedUnion('type', [
  /** Answers 'warm' alone, with the addresses of all that was loaded; none where something was not. */
  z.object({ type: z.literal('ready'), loaded: z.array(z.string()) }),
  z.object({
    type: z.literal('converted'),
    photo: z.instanceof(Blob),
    focalPx: z.number().positive().nullable(),
  }),
  z.object({ type: z.literal('stage'), stage: z.string() }),
  z.object({ type: z.literal('done'), reading: readingSchema, elapsedMs: z.number() }),
  z.object({
    type: z.literal('failed'),
    code: z.string(),
    message: z.string(),
    looksLike: z.enum(FACE_IDS).nullable(),
  }),
]);
export type FromReader = z.infer<typeof fromReaderSchema>;
