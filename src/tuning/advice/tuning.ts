import { z } from 'zod';

const pair = z.tuple([z.number(), z.number()]);

/** How sure a direction is: from 0.95, from 0.8, below. */
export const certaintySchema = z.enum(['sure', 'likely', 'undecided']);
export type Certainty = z.infer<typeof certaintySchema>;

export const adviceSchema = z.object({
  /**
   * What sort of step it is: say what is not known, look at the shooting first, shoot, change one
   * thing, or change nothing.
   */
  kind: z.enum(['say', 'settle', 'shoot', 'adjust', 'leave']),
  /** Which part of the bow or arrow, in the trade's words. */
  adjuster: z.string(),
  /** What to do, one sentence. */
  action: z.string(),
  /** Why, one sentence that names what it rests on. */
  reason: z.string(),
  cautions: z.array(z.string()),
});
export type Advice = z.infer<typeof adviceSchema>;

export const tuningSchema = z.object({
  /** Directions are those from the preferred offset, not from zero. */
  vertical: z.object({
    direction: z.enum(['high', 'low', 'level']),
    certainty: certaintySchema,
    p: z.number(),
    /** 'nocking point low', 'nocking point high' or 'as wanted'. */
    meaning: z.string(),
  }),
  horizontal: z.object({
    direction: z.enum(['right', 'left', 'level']),
    certainty: certaintySchema,
    p: z.number(),
    /** 'weak', 'stiff' or 'as wanted'; mirrored for left-handers. */
    meaning: z.string(),
  }),
  /** Whether the offset is within the plate that plunger and nocking point can trim. */
  withinPlate: z.boolean().nullable(),
  /** The plate at this distance and the probability that the true offset is within it. */
  plate: z.object({ radiusMm: z.number(), p: z.number() }).nullable(),
  /** Today's fletched spread against the archer's record. */
  fletchedForm: z.object({
    verdict: z.enum(['usual', 'wider', 'tighter', 'unknown']),
    /** Today's spread over the record's. */
    ratio: z.number().nullable(),
    /** Probability of a spread as wide as today's, or wider, on a usual day. */
    p: z.number().nullable(),
    meaning: z.string(),
  }),
  /**
   * The one estimate that directions, picture and advice speak of: mean and half-width of the 90 %
   * interval per axis, mrad [right, up], and how many ends it rests on, this one included. Null
   * without a distance, or where nothing tells the spread.
   */
  estimate: z
    .object({ mrad: pair, half90Mrad: pair, ends: z.int().min(1) })
    .nullable()
    .default(null),
  /** In the order of the work: one change at a time. */
  advice: z.array(adviceSchema),
  /** More arrows of each kind that would settle an undecided direction; null when all is settled. */
  shootMore: z.object({ fletched: z.int(), bare: z.int() }).nullable(),
  summary: z.string(),
});
export type Tuning = z.infer<typeof tuningSchema>;
