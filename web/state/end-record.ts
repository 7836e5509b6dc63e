import { v4 as newId } from 'uuid';
import { z } from 'zod';
import { markSchema, readingSchema } from '../../src/reading/reading.ts';
import { byHandSchema } from '../reader/messages.ts';
import { settingsSchema } from './settings-at-first.ts';

export const STEPS = ['look', 'tag', 'verdict', 'keep'] as const;
export type Step = (typeof STEPS)[number];

const stepSchema = z.enum(STEPS);
export const plainMarkSchema = markSchema.omit({ zone: true, inner: true, lineCall: true });

/** A mark as corrected here; its value is worked out anew after every change. */
export type PageMark = z.infer<typeof plainMarkSchema>;

/** An end as it is stored between reloads; the photo's bytes lie beside it. */
export const endRecordSchema = z.object({
  id: z.string(),
  createdAt: z.iso.datetime(),
  photoName: z.string(),
  settings: settingsSchema,
  /** Focal length in pixels, where the photo's file no longer tells it. */
  focalPx: z.number().positive().nullable().default(null),
  reading: readingSchema.nullable(),
  /** Marks as corrected; null until the photo has been read. */
  marks: z.array(plainMarkSchema).nullable(),
  byHand: byHandSchema.nullable(),
  /** Where the wanted face is, when a person chose among several. */
  pick: z.tuple([z.number(), z.number()]).nullable().default(null),
  step: stepSchema,
  /** True once a person has confirmed or changed the tags. */
  tagsConfirmed: z.boolean(),
  note: z.string(),
});
export type EndRecord = z.infer<typeof endRecordSchema>;

/** The record of an end that was just opened. */
export function newEndRecord(
  about: Pick<EndRecord, 'photoName' | 'settings' | 'focalPx'> & {
    /** Of a photo that was read elsewhere. */
    readonly reading?: EndRecord['reading'];
  },
): EndRecord {
  const { reading = null } = about;
  return {
    ...about,
    id: newId(),
    createdAt: new Date().toISOString(),
    reading,
    marks: reading?.marks ?? null,
    byHand: null,
    pick: null,
    step: 'look',
    tagsConfirmed: false,
    note: '',
  };
}
