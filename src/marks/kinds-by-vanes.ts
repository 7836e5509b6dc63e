import type { ArrowKind } from './mark.ts';

/** Strength of vanes from which an arrow is called fletched, and below which bare. */
const FLETCHED = 0.25;
const BARE = 0.18;
/** Vanes rank arrows only where the weakest fletched one shows so much more than the best bare one. */
const CLEARLY_MORE = 1.5;

interface Counts {
  readonly fletched?: number | undefined;
  readonly bare?: number | undefined;
}

/** The kind of all arrows where, by the counts, only one was shot; else null. */
export function onlyKind({ fletched, bare }: Counts): ArrowKind | null {
  if (bare === 0 && fletched !== undefined) return 'fletched';
  if (fletched === 0 && bare !== undefined) return 'bare';
  return null;
}

/**
 * Fletched or bare, by the vanes seen; with both counts known and all rear ends seen, by their rank.
 *
 * @param vanes How much each standing arrow's rear end looks fletched, 0 to 1; null where not seen.
 */
export function kindsByVanes(vanes: readonly (number | null)[], counts: Counts): ArrowKind[] {
  const only = onlyKind(counts);
  if (only) return vanes.map(() => only);
  const { fletched, bare } = counts;
  const byStrength = vanes.map((strength): ArrowKind => {
    if (strength === null) return 'unknown';
    return strength >= FLETCHED ? 'fletched' : strength <= BARE ? 'bare' : 'unknown';
  });
  if (fletched === undefined || bare === undefined) return byStrength;
  const seen = vanes.flatMap((strength, i) => (strength === null ? [] : [{ i, strength }]));
  seen.sort((a, b) => b.strength - a.strength);
  if (vanes.length !== fletched + bare || seen.length !== vanes.length) return byStrength;
  if (seen[fletched - 1]!.strength < CLEARLY_MORE * seen[fletched]!.strength) return byStrength;
  const first = new Set(seen.slice(0, fletched).map(({ i }) => i));
  return vanes.map((_, i) => (first.has(i) ? 'fletched' : 'bare'));
}
