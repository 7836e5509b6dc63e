import { z } from 'zod';
import { remembered } from '../state/remembered.ts';

const placeSchema = z.object({
  /** The end's. */
  id: z.string(),
  path: z.string(),
  bow: z.string(),
  session: z.int(),
  end: z.int(),
  takenAt: z.string().nullable(),
});
export type Place = z.infer<typeof placeSchema>;

/** The photos that were opened together, in order. */
export const evening = remembered<readonly Place[]>('evening', z.array(placeSchema), []);

/** Whether an end is one of the evening's. */
export function isOfEvening(id: string): boolean {
  return evening.value.some((place) => place.id === id);
}
