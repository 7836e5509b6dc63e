import type { SpotMm } from '../face/coordinates.ts';

/** A place with some evidence of an arrow. */
export interface Evidence {
  readonly spot: number;
  readonly mm: SpotMm;
  readonly sdMm: number;
  readonly probability: number;
}

/** Most places handed out: a face of chaff has hundreds, and a person points at strong ones. */
const MOST = 60;
/** Places nearer than this to another one, in shafts, are the same. */
const SAME_SHAFTS = 0.55;

/**
 * Places that were not counted as marks though something is there, likeliest first: where a person
 * says that an arrow hit, the nearest of them tells where exactly.
 *
 * @param counted What was counted: nothing is handed out there again.
 */
export function uncountedPlaces<T extends Evidence>(
  evidence: readonly T[],
  counted: readonly Pick<Evidence, 'spot' | 'mm'>[],
  shaftMm: number,
): T[] {
  const taken = [...counted];
  const left: T[] = [];
  for (const place of [...evidence].sort((a, b) => b.probability - a.probability)) {
    const isTaken = taken.some(
      ({ spot, mm }) =>
        spot === place.spot &&
        Math.hypot(mm[0] - place.mm[0], mm[1] - place.mm[1]) < SAME_SHAFTS * shaftMm,
    );
    if (isTaken) continue;
    taken.push(place);
    left.push(place);
    if (left.length === MOST) break;
  }
  return left;
}
