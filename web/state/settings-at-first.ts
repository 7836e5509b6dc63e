import { z } from 'zod';
import { SCORING_IDS, USUAL_SCORING } from '../../src/face/scoring.ts';
import { ARROWS_OF_A_KIND, DISTANCE_M, SHAFT_MM } from '../../src/request/limits.ts';
import { faceChoiceSchema, handSchema } from '../../src/request/request.ts';

/** What a person says about an end before it is read; the last answers are remembered. */
export const settingsSchema = z.object({
  archer: z.string().max(80),
  face: faceChoiceSchema,
  shaftMm: z.number().min(SHAFT_MM.min).max(SHAFT_MM.max).nullable(),
  /** Null while nobody has said. */
  hand: handSchema.nullable(),
  distanceM: z.number().min(DISTANCE_M.min).max(DISTANCE_M.max).nullable(),
  fletched: z.int().min(0).max(ARROWS_OF_A_KIND).nullable(),
  bare: z.int().min(0).max(ARROWS_OF_A_KIND).nullable(),
  preferredMrad: z.tuple([z.number(), z.number()]),
  /** The set-up in use, from the set-up book; null while there is none. */
  setUpId: z.string().nullable().default(null),
  place: z.string().max(120).default(''),
  /** Null while nobody has said: the distance tells then. */
  setting: z.enum(['indoor', 'outdoor']).nullable().default(null),
  /** By which rule arrows are valued. */
  scoring: z.enum(SCORING_IDS).default(USUAL_SCORING),
  /** In words, and on which day (ISO) they were true. */
  wind: z.string().max(120).default(''),
  windDay: z.string().default(''),
});
export type Settings = z.infer<typeof settingsSchema>;

/** Of an end that is kept: the log has no archer or bow without a hand. */
export const keptSettingsSchema = settingsSchema.extend({ hand: handSchema });
export type KeptSettings = z.infer<typeof keptSettingsSchema>;

/** Before anybody has said anything: nothing is known. */
export const SETTINGS_AT_FIRST: Settings = {
  archer: '',
  face: 'auto',
  shaftMm: null,
  hand: null,
  distanceM: null,
  fletched: null,
  bare: null,
  preferredMrad: [0, 0],
  setUpId: null,
  place: '',
  setting: null,
  scoring: USUAL_SCORING,
  wind: '',
  windDay: '',
};
