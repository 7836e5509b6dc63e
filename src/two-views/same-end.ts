import { ENGLISH } from '../words/words.ts';
import type { SpotMm } from '../face/coordinates.ts';
import { ReadingError } from '../request/reading-error.ts';
import { matchPlaces } from './match-places.ts';
import type { Overlay } from './overlay.ts';
import type { Place } from './place.ts';

/** Of the arrows that two photos of one end show, this share is found in both. */
const FOUND_AGAIN = 0.75;
/** A photo shows an arrow of this end there, rather than not. */
const CLEAR = 0.5;
/** Turns of the second photo's marks about their middle that make another end of them, degrees. */
const DECOYS_DEG = [40, 75, 110, 145, 180, 215, 250, 285, 320];

/**
 * Compares how many arrows of one photo are at their places in the other with how many would be by
 * chance, which in a tight group are many.
 * @throws ReadingError where another end is likelier
 */
export function checkSameEnd(
  first: readonly Place[],
  second: readonly Place[],
  overlay: Overlay,
): void {
  const [a, b] = [ofThisEnd(first), ofThisEnd(second)];
  const count = Math.min(a.length, b.length);
  if (count === 0) return;
  const again = Math.min(
    overlay.matches.filter((match) => a.includes(match.first)).length,
    overlay.matches.filter((match) => b.includes(match.second)).length,
    count,
  );
  const chance = Math.min(0.7, Math.max(0.03, chanceOfMatch(a, b, overlay) / count));
  const evidence =
    again * Math.log(FOUND_AGAIN / chance) +
    (count - again) * Math.log((1 - FOUND_AGAIN) / (1 - chance));
  if (evidence >= 0) return;
  throw new ReadingError(
    'also-differs',
    ENGLISH.say(
      'The second photo shows other arrows: of {count}, {again} where the first shows them. Choose another photo of this very end, or read the first one alone.',
      { count, again: againWords(again) },
    ),
  );
}

function againWords(again: number): string {
  if (again === 0) return ENGLISH.say('none are');
  return again === 1 ? ENGLISH.say('only 1 is') : ENGLISH.say('only {again} are', { again });
}

/** The surest of a photo's places: arrows where they stand, else this end's holes, else all holes. */
function ofThisEnd(places: readonly Place[]): Place[] {
  const arrows = places.filter(({ what, probability }) => what === 'arrow' && probability >= CLEAR);
  if (arrows.length > 0) return arrows;
  const holes = places.filter(({ what }) => what === 'hole');
  const fresh = holes.filter(({ mark }) => mark?.age === 'fresh' && mark.confidence >= CLEAR);
  return fresh.length > 0 ? fresh : holes;
}

/** How many matches as many arrows in as tight a group would have by chance. */
function chanceOfMatch(a: readonly Place[], b: readonly Place[], overlay: Overlay): number {
  const moved = b.map((place) => overlay.toFirst(place.mm));
  const middle = [0, 1].map((k) => moved.reduce((sum, mm) => sum + mm[k]!, 0) / moved.length);
  const counts = DECOYS_DEG.map((deg) => {
    const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
    const decoy = b.map((place, i): Place => {
      const [x, y] = [moved[i]![0] - middle[0]!, moved[i]![1] - middle[1]!];
      return { ...place, mm: [middle[0]! + x * c - y * s, middle[1]! + x * s + y * c] };
    });
    return matchPlaces(a, decoy, (mm: SpotMm) => mm, overlay.turnSd).length;
  });
  return counts.reduce((sum, n) => sum + n, 0) / counts.length;
}
