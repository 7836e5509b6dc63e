/**
 * What is said of how something changes with distance needs three: a line through two fits always, and
 * what the day or the aim did at one of them looks like a law.
 */
export const LEAST_DISTANCES = 3;

/** The farthest is at least this many times as far as the nearest: over less, hardly anything grows. */
const LEAST_RATIO = 1.5;

/** Why nothing is said yet, null where there are distances enough. */
export function tooFewDistances(distancesM: readonly number[]): string | null {
  const distances = [...new Set(distancesM)].sort((a, b) => a - b);
  const left = LEAST_DISTANCES - distances.length;
  if (left > 0) {
    const more = left === 1 ? 'one more distance' : `${left} more distances`;
    return distances.length === 0
      ? `Shoot groups at ${LEAST_DISTANCES} distances: fewer tell no law.`
      : `Shoot groups at ${more}: below ${LEAST_DISTANCES} a line fits always, and tells nothing.`;
  }
  const [nearest, furthest] = [distances[0]!, distances.at(-1)!];
  if (furthest >= LEAST_RATIO * nearest) return null;
  return `Shoot groups farther apart: from ${nearest} m to ${furthest} m hardly anything grows. ${Math.ceil(LEAST_RATIO * nearest)} m would do.`;
}
