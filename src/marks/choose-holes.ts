import { foundTooFew } from './found-too-few.ts';
import { ENGLISH } from '../words/words.ts';
import type { HoleCandidate } from './candidates/hole-candidate.ts';
import type { MarkAge } from './mark.ts';

export interface ChosenHole {
  readonly hole: HoleCandidate;
  readonly age: MarkAge;
  readonly confidence: number;
}

/**
 * Below this probability a candidate is no mark: one that is missed costs a person a search, twice
 * what it costs to take a false one away.
 */
const MARK = 1 / 3;
/** A known number of arrows makes a weaker candidate likely, down to this; never less. */
const EXPECTED_MARK = 0.2;
/** Appearance alone decides above this probability, or below its complement. */
const SURE = 0.8;

/**
 * Decides which candidates are marks and how old they are, by appearance alone. A known number of
 * arrows ranks the candidates: the likeliest are this end's, the others old; it never invents one.
 * It also says how fresh a hole must look in this photo: the probabilities of being this end's
 * marks add up to it.
 */
export function chooseHoles(
  holes: readonly HoleCandidate[],
  expected: number | undefined,
): { chosen: ChosenHole[]; warnings: string[] } {
  const warnings: string[] = [];
  if (expected === undefined) {
    const chosen = holes
      .filter((hole) => hole.probability >= MARK)
      .map((hole): ChosenHole => {
        const fresh = logistic(hole.freshness);
        if (fresh >= SURE) return { hole, age: 'fresh', confidence: hole.probability * fresh };
        return { hole, age: 'unknown', confidence: hole.probability };
      });
    return { chosen: sorted(chosen), warnings };
  }
  const likely = holes.filter((hole) => hole.probability >= EXPECTED_MARK);
  const offset = freshnessOffset(likely, expected);
  const ranked = likely
    .map((hole) => ({ hole, fresh: hole.probability * logistic(hole.freshness + offset) }))
    .sort((a, b) => b.fresh - a.fresh);
  const first = ranked.slice(0, expected);
  const others = ranked.slice(expected).filter(({ hole }) => hole.probability >= MARK);
  const chosen: ChosenHole[] = [
    ...first.map(({ hole, fresh }): ChosenHole => ({ hole, age: 'fresh', confidence: fresh })),
    ...others.map(({ hole }): ChosenHole => ({ hole, age: 'old', confidence: hole.probability })),
  ];
  warnings.push(...shortfall(expected, first.length));
  return { chosen: sorted(chosen), warnings };
}

/**
 * Decides among holes of which a photo from before says that they are new: it takes no appearance
 * to tell their age, only to tell whether they are marks.
 */
export function chooseNewHoles(
  fresh: readonly HoleCandidate[],
  old: readonly HoleCandidate[],
  expected: number | undefined,
): { chosen: ChosenHole[]; warnings: string[] } {
  const least = expected === undefined ? MARK : EXPECTED_MARK;
  const ranked = fresh
    .filter((hole) => hole.probability >= least)
    .sort((a, b) => b.probability - a.probability);
  const first = ranked.slice(0, expected ?? ranked.length);
  const surplus = ranked.slice(first.length).filter((hole) => hole.probability >= MARK);
  const warnings = shortfall(expected, first.length);
  if (surplus.length > 0) {
    warnings.push(
      ENGLISH.say(
        "{fresh} marks are new since the photo from before, {shot} arrows were shot: check which ones are this end's.",
        { fresh: first.length + surplus.length, shot: first.length },
      ),
    );
  }
  const chosen: ChosenHole[] = [
    ...first.map((hole): ChosenHole => ({ hole, age: 'fresh', confidence: hole.probability })),
    // More than were shot cannot all be this end's; the warning says so.
    ...surplus.map((hole): ChosenHole => ({
      hole,
      age: 'old',
      confidence: hole.probability / 2,
    })),
    ...old.map((hole): ChosenHole => ({ hole, age: 'old', confidence: hole.probability })),
  ];
  return { chosen: sorted(chosen), warnings };
}

/** Says when fewer marks were found than arrows shot. */
function shortfall(expected: number | undefined, found: number): string[] {
  if (expected === undefined || found >= expected) return [];
  return [foundTooFew(expected, found, 'plain')];
}

/** Offsets to freshness beyond this leave nothing open. */
const MOST_OFFSET = 12;

/** What to add to every hole's freshness so that as many are fresh, by probability, as were shot. */
function freshnessOffset(holes: readonly HoleCandidate[], expected: number): number {
  let [low, high] = [-MOST_OFFSET, MOST_OFFSET];
  for (let i = 0; i < 40; i++) {
    const offset = (low + high) / 2;
    const fresh = holes.reduce(
      (sum, hole) => sum + hole.probability * logistic(hole.freshness + offset),
      0,
    );
    if (fresh < expected) low = offset;
    else high = offset;
  }
  return (low + high) / 2;
}

function logistic(x: number): number {
  return 1 / (1 + Math.exp(-x));
}

function sorted(chosen: ChosenHole[]): ChosenHole[] {
  return chosen.sort(
    (a, b) => Number(a.age === 'old') - Number(b.age === 'old') || b.confidence - a.confidence,
  );
}
