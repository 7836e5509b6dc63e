import { z } from 'zod';
import { FACE_IDS, FAMILIES, type Family } from '../face/faces.ts';
import { SCORING_IDS, USUAL_SCORING } from '../face/scoring.ts';
import { arrowNumberSchema } from './arrow-number.ts';
import { ARROWS_OF_A_KIND, DISTANCE_M, SHAFT_MM } from './limits.ts';

export const handSchema = z.enum(['right', 'left']);
export type Hand = z.infer<typeof handSchema>;

export const faceChoiceSchema = z.enum([...FACE_IDS, 'auto']);
export type FaceChoice = z.infer<typeof faceChoiceSchema>;

/** The printed size this archer uses, by family of faces that look alike in photos. */
export const usualSizesSchema = z.partialRecord(
  z.enum(Object.keys(FAMILIES) as [Family, ...Family[]]),
  z.enum(FACE_IDS),
);
export type UsualSizes = z.infer<typeof usualSizesSchema>;

/** What a person says about a photo before it is read. */
export const readingRequestSchema = z.object({
  face: faceChoiceSchema.default('auto'),
  shaftMm: z
    .number()
    .min(SHAFT_MM.min, `A shaft is at least ${SHAFT_MM.min} mm thick.`)
    .max(SHAFT_MM.max, `A shaft is at most ${SHAFT_MM.max} mm thick.`)
    .optional(),
  /** Arrows of each kind shot in this end; together the number of marks to expect. */
  fletched: z.int().min(0).max(ARROWS_OF_A_KIND).optional(),
  bare: z.int().min(0).max(ARROWS_OF_A_KIND).optional(),
  /** Numbers of the marks that are bare shafts, as the reading counts them from 1; all others are fletched. */
  bareAt: z.array(z.int().min(1).max(500)).max(ARROWS_OF_A_KIND).optional(),
  /** Numbers written on the shafts, of marks as the reading counts them from 1. */
  arrowNumbers: z
    .array(z.object({ mark: z.int().min(1).max(500), arrowNumber: arrowNumberSchema }))
    .max(2 * ARROWS_OF_A_KIND)
    .optional(),
  /** Unsaid, what lies sideways is not told weak from stiff. */
  hand: handSchema.optional(),
  /** By which rule arrows are valued. */
  scoring: z.enum(SCORING_IDS).default(USUAL_SCORING),
  distanceM: z.number().min(DISTANCE_M.min).max(DISTANCE_M.max).optional(),
  /** Offset this archer wants, mrad [right, up]. */
  preferredMrad: z.tuple([z.number(), z.number()]).default([0, 0]),
});
export type ReadingRequest = z.infer<typeof readingRequestSchema>;
