import type { ArrowKind } from './mark.ts';
import type { StandingArrow } from './standing/standing-arrows.ts';

export interface ChosenArrow {
  readonly arrow: StandingArrow;
  readonly kind: ArrowKind;
  readonly confidence: number;
}

export interface ChosenArrows {
  readonly arrows: readonly ChosenArrow[];
  readonly warnings: string[];
}

/** Below this probability a bar is no arrow. */
const ARROW = 0.5;
/** A known number of arrows makes a weaker one likely, down to this; never less. */
const EXPECTED_ARROW = 0.12;
/** Arrows stand in the face at all when the likeliest is at least so likely. */
const STANDING = 0.5;
/** Strength of vanes from which an arrow is called fletched, and below which bare. */
const FLETCHED = 0.3;
const BARE = 0.12;

/**
 * Decides which bars are arrows, and which arrows are fletched. The number of arrows shot ranks
 * the candidates and the number of each kind ranks their vanes; neither invents anything.
 */
export function chooseArrows(
  candidates: readonly StandingArrow[],
  counts: { readonly fletched?: number | undefined; readonly bare?: number | undefined },
): ChosenArrows {
  const ranked = [...candidates].sort((a, b) => b.probability - a.probability);
  if (!ranked[0] || ranked[0].probability < STANDING) return { arrows: [], warnings: [] };
  const { fletched, bare } = counts;
  const expected =
    fletched === undefined && bare === undefined ? undefined : (fletched ?? 0) + (bare ?? 0);
  const least = expected === undefined ? ARROW : EXPECTED_ARROW;
  const likely = ranked.filter((arrow) => arrow.probability >= least);
  const chosen = likely.slice(0, expected ?? likely.length);
  const warnings: string[] = [];
  const surplus = likely.slice(chosen.length).filter((arrow) => arrow.probability >= ARROW).length;
  if (expected !== undefined && chosen.length < expected) {
    const missing = expected - chosen.length;
    warnings.push(
      `${expected} ${expected === 1 ? 'arrow' : 'arrows'} shot, ${chosen.length} found standing: ` +
        `${missing === 1 ? 'one' : missing} may be hidden or have missed the face.`,
    );
  } else if (surplus > 0) {
    warnings.push(
      `${chosen.length + surplus} arrows seem to stand in the face, ${expected} were shot: check which ones are marked.`,
    );
  }
  const kinds = kindsOf(chosen, fletched, bare);
  return {
    arrows: chosen.map((arrow, i) => ({ arrow, kind: kinds[i]!, confidence: arrow.probability })),
    warnings,
  };
}

/** Fletched or bare, by the vanes seen; with both counts known and all found, by their rank. */
function kindsOf(
  arrows: readonly StandingArrow[],
  fletched: number | undefined,
  bare: number | undefined,
): ArrowKind[] {
  if (bare === 0 && fletched !== undefined) return arrows.map(() => 'fletched');
  if (fletched === 0 && bare !== undefined) return arrows.map(() => 'bare');
  const byVanes = arrows.map(({ vanes }): ArrowKind => {
    if (vanes === null) return 'unknown';
    return vanes >= FLETCHED ? 'fletched' : vanes <= BARE ? 'bare' : 'unknown';
  });
  if (fletched === undefined || bare === undefined) return byVanes;
  const seen = arrows.flatMap(({ vanes }, i) => (vanes === null ? [] : [{ i, vanes }]));
  seen.sort((a, b) => b.vanes - a.vanes);
  if (arrows.length !== fletched + bare || seen.length !== arrows.length) return byVanes;
  const last = seen[fletched - 1]!.vanes;
  const next = seen[fletched]!.vanes;
  // Vanes that hardly differ rank nothing.
  const ranks = last - next > 0.03;
  return ranks ? arrows.map((_, i) => (isAmong(seen, fletched, i) ? 'fletched' : 'bare')) : byVanes;
}

function isAmong(seen: readonly { readonly i: number }[], first: number, i: number): boolean {
  return seen.slice(0, first).some((entry) => entry.i === i);
}
