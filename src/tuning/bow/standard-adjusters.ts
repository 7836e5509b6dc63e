import { ADJUSTER_PARTS, partOf } from './parts.ts';
import type { Adjuster } from './set-up.ts';

/**
 * The adjusters that most bows of the target line have, as a start for a new bow; every field can
 * be changed and others added.
 */
export function standardAdjusters(): Adjuster[] {
  return ADJUSTER_PARTS.flatMap((part): Adjuster[] => {
    const { usual, higherIs } = partOf(part);
    if (!usual) return [];
    return [{ id: part, part, ...usual, ...(higherIs && { higherIs }) }];
  });
}
