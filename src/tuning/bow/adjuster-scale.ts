import { z } from 'zod';

/** How an adjuster is read. */
export const adjusterScaleSchema = z.discriminatedUnion('type', [
  z.object({
    type: z.literal('number'),
    /** 'mm', 'turns', 'lb', 'g', ... */
    unit: z.string().trim().max(20),
    /** Smallest change that makes sense, in the unit. */
    step: z.number().positive('A step is greater than zero.'),
    min: z.number().optional(),
    max: z.number().optional(),
  }),
  /** A two-number reading: whole lines that show, and the dial's mark; one mark on is one click. */
  z.object({
    type: z.literal('dial'),
    positionsPerLine: z.int().min(2, 'A dial has at least 2 positions per line.').max(100),
    lines: z.int().min(1).max(60).optional(),
  }),
  /** One of a few, ordered from the softest, lowest or smallest. */
  z.object({
    type: z.literal('choice'),
    choices: z.array(z.string().trim().min(1)).min(2).max(20),
  }),
]);
export type AdjusterScale = z.infer<typeof adjusterScaleSchema>;
