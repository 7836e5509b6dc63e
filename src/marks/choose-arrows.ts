import { foundTooFew } from './found-too-few.ts';
import { ENGLISH } from '../words/words.ts';
import type { StandingArrow } from './standing/standing-arrows.ts';

export interface ChosenArrows {
  readonly arrows: readonly StandingArrow[];
  readonly warnings: string[];
}

/** Below this probability a bar is no arrow. */
const ARROW = 0.5;
/** A known number of arrows makes a weaker one likely, down to this; never less. */
const EXPECTED_ARROW = 0.3;
/** Weaker ones are told of down to this, for a person to look at. */
export const UNCLEAR_ARROW = 0.15;
/** Arrows stand in the face at all when the likeliest is at least so likely. */
const STANDING = 0.8;

/** Decides which bars are arrows. The number of arrows shot ranks them and never invents one. */
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
    warnings.push(foundTooFew(expected, chosen.length, 'standing'));
  } else if (surplus > 0) {
    warnings.push(
      ENGLISH.say(
        '{seen} arrows seem to stand in the face, {shot} were shot: check which ones are marked.',
        { seen: chosen.length + surplus, shot: expected! },
      ),
    );
  }
  const unclear = ranked.filter(
    (arrow) => arrow.probability < least && arrow.probability >= UNCLEAR_ARROW,
  ).length;
  if (unclear > 0 && (expected === undefined || chosen.length < expected)) {
    warnings.push(
      unclear === 1
        ? ENGLISH.say(
            'A further shaft can be seen, but not surely where it enters the face: add what is missing by hand.',
          )
        : ENGLISH.say(
            '{unclear} further shafts can be seen, but not surely where they enter the face: add what is missing by hand.',
            { unclear },
          ),
    );
  }
  return { arrows: chosen, warnings };
}
