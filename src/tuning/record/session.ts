import { z } from 'zod';
import { FACE_IDS } from '../../face/faces.ts';
import { SCORING_IDS, USUAL_SCORING } from '../../face/scoring.ts';
import { DISTANCE_M } from '../../request/limits.ts';
import { handSchema } from '../../request/request.ts';
import { arrowNumberSchema } from '../../request/arrow-number.ts';

export const idSchema = z.string().min(1).max(80);
const dateTime = z.iso.datetime({ offset: true });

export const archerSchema = z.object({
  id: idSchema,
  name: z.string().trim().min(1, 'An archer needs a name.').max(80),
  hand: handSchema,
  notes: z.string().max(4000).default(''),
});
export type Archer = z.infer<typeof archerSchema>;

/** Shooting on one day, at one distance, on one kind of face. */
export const sessionSchema = z.object({
  id: idSchema,
  archerId: idSchema,
  bowId: idSchema,
  /** The set-up at its start; each end names its own. */
  setUpId: idSchema,
  date: dateTime,
  place: z.string().max(120).default(''),
  /** Null where nobody said. */
  setting: z.enum(['indoor', 'outdoor']).nullable(),
  /** In words: 'none', 'light from the left', ... */
  wind: z.string().max(120).default(''),
  /** Null where nobody said: what needs an angle then leaves the session's ends out. */
  distanceM: z.number().min(DISTANCE_M.min).max(DISTANCE_M.max).nullable(),
  face: z.enum(FACE_IDS),
  notes: z.string().max(4000).default(''),
});
export type Session = z.infer<typeof sessionSchema>;

export const arrowSchema = z.object({
  id: idSchema,
  /** From the centre of the arrow's own spot, mm; x to the archer's right, y up. */
  mm: z.tuple([z.number(), z.number()]),
  /** One-sigma uncertainty per axis of a position read from a photo; absent when typed in. */
  sdMm: z.number().nonnegative().optional(),
  spot: z.int().min(0).default(0),
  kind: z.enum(['fletched', 'bare', 'unknown']),
  /** 0 is a miss (M). */
  zone: z.int().min(0).max(10),
  inner: z.boolean().default(false),
  /** As written on the shaft; absent where nobody said. */
  arrowNumber: arrowNumberSchema.optional(),
});
export type Arrow = z.infer<typeof arrowSchema>;

/** One end. Its arrows hit the face; `missed` counts those that did not, by kind. */
export const endSchema = z.object({
  id: idSchema,
  sessionId: idSchema,
  /** The set-up it was shot with. */
  setUpId: idSchema,
  shotAt: dateTime,
  arrows: z.array(arrowSchema).max(72),
  /** By which rule its arrows were valued. */
  scoring: z.enum(SCORING_IDS).default(USUAL_SCORING),
  /** Arrows off the face: they count as M in scores and are no part of a group. */
  missed: z
    .object({ fletched: z.int().min(0).max(72), bare: z.int().min(0).max(72) })
    .default({ fletched: 0, bare: 0 }),
  /** File name of the stored photo and the hash of its bytes, null when typed in. */
  photo: z
    .object({ file: z.string(), sha256: z.string().length(64) })
    .nullable()
    .default(null),
  /** Left out of learning by the archer (a wrong aim, a broken clicker), with the end still kept. */
  setAside: z.boolean().default(false),
  notes: z.string().max(4000).default(''),
});
export type End = z.infer<typeof endSchema>;
