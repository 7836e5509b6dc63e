import { isSamePlace, withoutDoubles, type Evidence } from './candidates/without-doubles.ts';

/** Most places handed out: a face of chaff has hundreds, and a person points at strong ones. */
const MOST = 60;

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
  const left = evidence.filter((place) =>
    counted.every((mark) => !isSamePlace(mark, place, shaftMm)),
  );
  return withoutDoubles(left, shaftMm).slice(0, MOST);
}
