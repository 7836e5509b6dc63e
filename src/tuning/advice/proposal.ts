import { z } from 'zod';
import { adjusterPartSchema } from '../bow/set-up.ts';

/** The next step on one adjuster of one bow, learned from the log. */
export const proposalSchema = z.object({
  axis: z.enum(['vertical', 'horizontal']),
  /** A probe moves far enough to learn what the adjuster does; a step moves to the wanted offset. */
  kind: z.enum(['step', 'probe']),
  adjusterId: z.string(),
  part: adjusterPartSchema,
  name: z.string(),
  unit: z.string(),
  /** Signed change, in clicks, the adjuster's unit, or places in its list of choices. */
  change: z.number(),
  /** 80 % interval of the change that would land exactly. */
  interval: z.tuple([z.number(), z.number()]),
  /** Probability that this axis is within the dead zone of the preferred offset after the change. */
  pLands: z.number(),
  /** 'about 3 clicks softer (2 to 5)'. */
  words: z.string(),
  /** Which ends and which slope it rests on. */
  reason: z.string(),
  endIds: z.array(z.string()),
});
export type Proposal = z.infer<typeof proposalSchema>;

/**
 * What of an axis no adjuster of the log can change, so that the rule of thumb must do: 'all' where the
 * set-up gives no adjuster for it, 'rest' where they would have to go on beyond the ends of their ranges.
 */
export type LeftToThumb = 'all' | 'rest' | 'nothing';
