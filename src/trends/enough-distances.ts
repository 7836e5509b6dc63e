import { ENGLISH, type Words } from '../words/words.ts';

/**
 * What is said of how something changes with distance needs three: a line through two fits always, and
 * what the day or the aim did at one of them looks like a law.
 */
export const LEAST_DISTANCES = 3;

/** The farthest is at least this many times as far as the nearest: over less, hardly anything grows. */
const LEAST_RATIO = 1.5;

/** Why nothing is said yet, null where there are distances enough. */
export function tooFewDistances(
  distancesM: readonly number[],
  { say, count, metres }: Words = ENGLISH,
): string | null {
  const distances = [...new Set(distancesM)].sort((a, b) => a - b);
  const left = LEAST_DISTANCES - distances.length;
  if (left > 0) {
    return distances.length === 0
      ? say('Shoot groups at {least} distances: fewer tell no law.', { least: LEAST_DISTANCES })
      : count(
          left,
          'Shoot groups at one more distance: below {least} a line fits always, and tells nothing.',
          'Shoot groups at {n} more distances: below {least} a line fits always, and tells nothing.',
          { least: LEAST_DISTANCES },
        );
  }
  const [nearest, furthest] = [distances[0]!, distances.at(-1)!];
  if (furthest >= LEAST_RATIO * nearest) return null;
  return say(
    'Shoot groups farther apart: from {nearest} to {furthest} hardly anything grows. {enough} would do.',
    {
      nearest: metres(nearest),
      furthest: metres(furthest),
      enough: metres(Math.ceil(LEAST_RATIO * nearest)),
    },
  );
}
