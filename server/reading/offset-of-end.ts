import { z } from 'zod';
import { archerRecordSchema } from '../../src/groups/archer-record.ts';
import { groupsOf } from '../../src/groups/groups-of.ts';
import type { Groups } from '../../src/groups/groups.ts';
import { DISTANCE_M } from '../../src/request/limits.ts';
import { handSchema } from '../../src/request/request.ts';
import { readTuning } from '../../src/tuning/read-tuning.ts';
import type { Tuning } from '../../src/tuning/advice/tuning.ts';

/** Further from the centre than any boss reaches, mm. */
const FARTHEST_MM = 3000;
const coordinate = z
  .number()
  .min(-FARTHEST_MM, `Positions are mm from the centre, at most ${FARTHEST_MM}.`)
  .max(FARTHEST_MM, `Positions are mm from the centre, at most ${FARTHEST_MM}.`);
const pair = z.tuple([coordinate, coordinate]);

/** END.json: an end as typed in, positions from the centre of each arrow's own spot. */
export const typedEndSchema = z.object({
  hand: handSchema.optional(),
  distanceM: z.number().min(DISTANCE_M.min).max(DISTANCE_M.max).optional(),
  /** Offset this archer wants, mrad [right, up]. */
  preferredMrad: pair.default([0, 0]),
  marks: z
    .array(z.object({ mm: pair, kind: z.enum(['fletched', 'bare', 'unknown']) }))
    .min(1, 'An end has at least one arrow.')
    .max(1000, 'An end has at most 1000 arrows.'),
  /** The archer's known spread. */
  record: archerRecordSchema.optional(),
});
export type TypedEnd = z.infer<typeof typedEndSchema>;

/** The same inference as a reading's, from typed-in positions; no tuning without both kinds. */
export function offsetOfEnd(end: TypedEnd): { groups: Groups; tuning: Tuning | null } {
  const groups = groupsOf(end.marks, { distanceM: end.distanceM, record: end.record });
  return { groups, tuning: readTuning(groups, { ...end, hand: end.hand ?? null }) };
}
