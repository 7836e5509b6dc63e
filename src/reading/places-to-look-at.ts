import { UNCLEAR_ARROW } from '../marks/choose-arrows.ts';
import type { Mark } from '../marks/mark.ts';
import type { Reading } from './reading.ts';

/** More than these say that a face is full of chaff, and a person sees nothing among them. */
const MOST = 12;

/**
 * Places of a reading that a person should look at: something shows there, too weakly to be counted and too
 * clearly to be left unsaid. Likeliest first; none where a mark lies by now.
 *
 * @param marks as corrected
 * @param shaftMm nearer than half of it two places are one
 */
export function placesToLookAt(
  { uncounted }: Pick<Reading, 'uncounted'>,
  marks: readonly Pick<Mark, 'spot' | 'mm'>[],
  shaftMm: number,
): Reading['uncounted'] {
  return uncounted
    .filter(({ probability }) => probability >= UNCLEAR_ARROW)
    .sort((a, b) => b.probability - a.probability)
    .slice(0, MOST)
    .filter(({ spot, mm }) =>
      marks.every(
        (mark) =>
          mark.spot !== spot || Math.hypot(mark.mm[0] - mm[0], mark.mm[1] - mm[1]) >= shaftMm / 2,
      ),
    );
}
