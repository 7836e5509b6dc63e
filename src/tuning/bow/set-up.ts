import { z } from 'zod';
import { handSchema } from '../../request/request.ts';
import { adjusterScaleSchema } from './adjuster-scale.ts';
import { ADJUSTER_PARTS } from './parts.ts';

const id = z.string().min(1).max(80);
const name = z
  .string()
  .trim()
  .min(1, 'A name is needed.')
  .max(80, 'A name has at most 80 letters.');
const date = z.iso.datetime({ offset: true });

export const adjusterPartSchema = z.enum(ADJUSTER_PARTS);

export const adjusterSchema = z.object({
  id,
  part: adjusterPartSchema,
  name,
  scale: adjusterScaleSchema,
  /** For parts that are made to read either way: what a higher reading does. */
  higherIs: z.enum(['stiffer', 'softer']).optional(),
});
export type Adjuster = z.infer<typeof adjusterSchema>;

/** A reading of one adjuster, in the form of its scale. */
export const settingSchema = z.discriminatedUnion('type', [
  z.object({ type: z.literal('number'), value: z.number() }),
  z.object({ type: z.literal('dial'), line: z.int(), mark: z.int() }),
  z.object({ type: z.literal('choice'), choice: z.string() }),
]);
export type Setting = z.infer<typeof settingSchema>;

/** Out of use, kept for what was shot with it; absent while it is in use. */
const archived = z.literal(true).optional();

export const bowSchema = z.object({
  id,
  archerId: id,
  name,
  hand: handSchema,
  adjusters: z.array(adjusterSchema).max(40),
  notes: z.string().max(4000).default(''),
  archived,
});
export type Bow = z.infer<typeof bowSchema>;

/**
 * A dated snapshot of every adjuster of a bow. A change of the bow makes a new one; to correct one says
 * what was so all along.
 */
export const setUpSchema = z.object({
  id,
  bowId: id,
  name,
  date,
  /** By adjuster id. An adjuster that was not read is absent. */
  settings: z.record(z.string(), settingSchema),
  /** Where this archer wants the bare shafts, mrad [right, up] from the fletched centre. */
  preferredMrad: z.tuple([z.number(), z.number()]).default([0, 0]),
  notes: z.string().max(4000).default(''),
  archived,
});
export type SetUp = z.infer<typeof setUpSchema>;
