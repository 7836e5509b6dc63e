import { ENGLISH } from '../../words/words.ts';
import { spotToFlat } from '../../fit/flat/flatten.ts';
import { ReadingError } from '../../request/reading-error.ts';
import type { HoleCandidate } from '../candidates/hole-candidate.ts';
import { A_NEW_MARK, handMadeHoles } from '../hand-made/hand-made-holes.ts';
import type { SpotView } from '../flat-view/spot-view.ts';
import { misfitSince } from './misfit-since.ts';
import { registerViews } from './register-views.ts';

export interface NewHoles {
  /** Holes that the earlier photo does not show. */
  readonly fresh: HoleCandidate[];
  /** Holes that it shows too. */
  readonly old: HoleCandidate[];
  /** Holes of the earlier photo looked for in the later one. */
  readonly clear: number;
  /** Of those, the ones found again. */
  readonly matched: number;
  /** How many would be found on another face that is as much used. */
  readonly matchedByChance: number;
}

/** Two views of a spot and the candidates of each. */
export interface SpotInBoth {
  readonly before: SpotView;
  readonly after: SpotView;
  readonly holesAfter: readonly HoleCandidate[];
}

/** A new hole this near, in shaft diameters, is the same as an old candidate. */
const SAME_SHAFTS = 0.6;

/** What is new on a spot since the earlier photo. */
export function newHoles({ before, after, holesAfter }: SpotInBoth): NewHoles {
  const { flat, shaftMm } = after;
  const registration = registerViews(handMadeHoles(before), holesAfter, shaftMm, (mm) => {
    const [x, y] = spotToFlat(flat, mm);
    return flat.seen[Math.floor(y) * flat.raster.width + Math.floor(x)] === 1;
  });
  const misfit = misfitSince(before, after, registration);
  const fresh = handMadeHoles({ ...after, misfit }, A_NEW_MARK);
  const certain = fresh.filter((hole) => hole.probability >= 0.5);
  const old = holesAfter.filter(
    (hole) =>
      hole.probability >= 0.5 &&
      !certain.some(
        ({ mm }) => Math.hypot(mm[0] - hole.mm[0], mm[1] - hole.mm[1]) < SAME_SHAFTS * shaftMm,
      ),
  );
  const { clear, matched, matchedByChance } = registration;
  return { fresh, old, clear, matched, matchedByChance };
}

/** Holes stay: of those seen clearly before, this share must be found again. */
const LEAST_FOUND_AGAIN = 0.6;
/** Fewer clear holes than this prove nothing. */
const LEAST_CLEAR = 4;
/**
 * Where hundreds of holes touch, each photo parts them otherwise and fewer are found again. The face is
 * the same where at least this share is, and so many standard deviations more than chance explains.
 */
const MUCH_USED = { leastShare: 0.25, beyondChance: 6 } as const;
/** Of many old holes, this share may look new by light and view. */
const LOOKS_NEW = 0.05;

/**
 * Refuses a photo that cannot be of the same face before this end.
 * @throws ReadingError 'before-differs'
 */
export function checkSameFace(spots: readonly NewHoles[], expected: number | undefined): void {
  const sum = (get: (spot: NewHoles) => number) => spots.reduce((n, spot) => n + get(spot), 0);
  const clear = sum((spot) => spot.clear);
  const matched = sum((spot) => spot.matched);
  const byChance = sum((spot) => spot.matchedByChance);
  const fresh = sum((spot) => spot.fresh.filter((hole) => hole.probability >= 0.5).length);
  const beyondChance = (matched - byChance) / Math.sqrt(byChance + 1);
  const sameByMany =
    matched >= MUCH_USED.leastShare * clear && beyondChance >= MUCH_USED.beyondChance;
  const fewAgain = clear >= LEAST_CLEAR && matched < LEAST_FOUND_AGAIN * clear;
  const partedOtherwise = fewAgain && sameByMany;
  if (fewAgain && !partedOtherwise) {
    throw new ReadingError(
      'before-differs',
      ENGLISH.say(
        'Of {clear} clear holes in the photo from before only {matched} are in this one: it shows another face. Choose the photo taken of this face before the end, or read without one.',
        { clear, matched },
      ),
    );
  }
  if (expected !== undefined && fresh > 2 * expected + 3 + LOOKS_NEW * clear) {
    throw new ReadingError(
      'before-differs',
      ENGLISH.say(
        '{fresh} marks are not in the photo from before, but only {shot} arrows were shot: it shows another face, or is too blurred to tell. Choose the photo taken of this face just before the end, or read without one.',
        { fresh, shot: expected },
      ),
    );
  }
  if (fresh === 0 && expected !== 0 && clear - matched >= 2 && !partedOtherwise) {
    throw new ReadingError(
      'before-differs',
      ENGLISH.say(
        'The photo from before shows holes that this one does not, and nothing is new in this one: the two may be swapped.',
      ),
    );
  }
}
