import type { ArrowKind } from './mark.ts';

/** An arrow is called fletched from this probability, bare below its reverse. */
const CALLED = 0.75;

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
 * Fletched or bare, by what is seen of each arrow and how many of each kind were shot.
 *
 * @param vanes Probability of each standing arrow to have vanes, by its looks alone, as sure as a
 * network that knows of as many fletched as bare ones; null where its rear end is not seen.
 */
export function kindsByVanes(vanes: readonly (number | null)[], counts: Counts): ArrowKind[] {
  const only = onlyKind(counts);
  if (only) return vanes.map(() => only);
  return fletchedByCounts(vanes, counts).map((p) =>
    p >= CALLED ? 'fletched' : p <= 1 - CALLED ? 'bare' : 'unknown',
  );
}

/**
 * Probability of each arrow to be fletched, given that as many are as were shot. Arrows that were not
 * found may be of either kind.
 */
function fletchedByCounts(vanes: readonly (number | null)[], { fletched, bare }: Counts): number[] {
  const found = vanes.map((p) => p ?? 0.5);
  if (fletched === undefined || bare === undefined) return found;
  const unseen = Math.max(0, fletched + bare - found.length);
  const all = [...found, ...Array.from({ length: unseen }, () => 0.5)];
  return found.map((p, i) => {
    const others = chancesOfCounts(all.filter((_, j) => j !== i));
    const yes = p * (others[fletched - 1] ?? 0);
    const no = (1 - p) * (others[fletched] ?? 0);
    return yes + no > 0 ? yes / (yes + no) : p;
  });
}

/** Probability of 0, 1, 2 ... of independent events to happen (Poisson binomial distribution). */
function chancesOfCounts(events: readonly number[]): number[] {
  return events.reduce<number[]>(
    (chances, p) =>
      [...chances, 0].map((chance, k) => chance * (1 - p) + (chances[k - 1] ?? 0) * p),
    [1],
  );
}
