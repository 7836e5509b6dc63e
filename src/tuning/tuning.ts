import { z } from 'zod';

/** How sure a direction is. */
export const certaintySchema = z.enum(['sure', 'likely', 'undecided']);

export const adviceSchema = z.object({
  /** Which part of the bow or arrow, in the trade's words. */
  adjuster: z.string(),
  /** What to do, one sentence. */
  action: z.string(),
  /** Why, one sentence that names what it rests on. */
  reason: z.string(),
  cautions: z.array(z.string()),
});

export const tuningSchema = z.object({
  vertical: z.object({
    direction: z.enum(['high', 'low', 'level']),
    certainty: certaintySchema,
    p: z.number(),
    meaning: z.string(),
  }),
  horizontal: z.object({
    direction: z.enum(['right', 'left', 'level']),
    certainty: certaintySchema,
    p: z.number(),
    /** weak or stiff, mirrored for left-handers. */
    meaning: z.string(),
  }),
  /** Whether the offset is within the plate that plunger and nocking point can trim. */
  withinPlate: z.boolean().nullable(),
  advice: z.array(adviceSchema),
  /** More arrows of each kind that would settle an undecided direction; null when all is settled. */
  shootMore: z.object({ fletched: z.int(), bare: z.int() }).nullable(),
  summary: z.string(),
});
export type Tuning = z.infer<typeof tuningSchema>;
export type Advice = z.infer<typeof adviceSchema>;
