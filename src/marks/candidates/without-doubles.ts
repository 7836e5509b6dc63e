import type { HoleCandidate } from './hole-candidate.ts';
import { likeliestOf } from './likeliest-of.ts';

/** A place with some evidence of an arrow. */
export type Evidence = Pick<HoleCandidate, 'spot' | 'mm' | 'sdMm' | 'probability'>;

/** Places of one spot nearer to one another than this, in shafts, are the same hole. */
const SAME_SHAFTS = 0.4;

/** Whether two places are too near to one another to be two holes. */
export function isSamePlace(
  a: Pick<Evidence, 'spot' | 'mm'>,
  b: Pick<Evidence, 'spot' | 'mm'>,
  shaftMm: number,
): boolean {
  return (
    a.spot === b.spot && Math.hypot(a.mm[0] - b.mm[0], a.mm[1] - b.mm[1]) < SAME_SHAFTS * shaftMm
  );
}

/** Of places that are the same the likeliest stays; likeliest first. */
export function withoutDoubles<T extends Evidence>(places: readonly T[], shaftMm: number): T[] {
  return likeliestOf(places, (place, other) => isSamePlace(other, place, shaftMm));
}
