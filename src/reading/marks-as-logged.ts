import type { ArrowKind, Mark } from '../marks/mark.ts';
import type { End } from '../tuning/record/session.ts';
import { faceMap } from './face-map.ts';
import type { Reading } from './reading.ts';

/** Of an arrow whose position was typed in or tapped, mm: what a careful finger does. */
const BY_HAND_SD_MM = 1;

/**
 * A reading's marks as the log has the end's arrows, after somebody corrected it there: arrows moved and
 * tagged as they are there, new ones placed in this photo, and without those that are not there. Marks of
 * earlier ends stay; the log has none of them.
 */
export function marksAsLogged(
  { fit, marks }: Pick<Reading, 'fit' | 'marks'>,
  arrows: End['arrows'],
): Mark[] {
  const logged = new Set(arrows.map(({ id }) => id));
  const before = new Map(marks.map((mark) => [mark.id, mark]));
  const earlier = marks.filter((mark) => mark.age === 'old' && !logged.has(mark.id));
  return [
    ...earlier,
    ...arrows.map(({ id, mm, spot, kind, arrowNumber, sdMm = BY_HAND_SD_MM }): Mark => {
      const mark = before.get(id);
      const isThere = mark?.spot === spot && mark.mm[0] === mm[0] && mark.mm[1] === mm[1];
      const tag = tagOf(mark, kind);
      const age = mark && mark.age !== 'old' ? mark.age : 'fresh';
      if (mark && isThere) return { ...mark, ...tag, age, arrowNumber };
      const shown = fit.spots[spot];
      return {
        state: 'hole',
        confidence: 1,
        ...mark,
        age,
        id,
        spot,
        mm,
        sdMm,
        kind,
        arrowNumber,
        ...tag,
        px: shown ? faceMap(shown).toPx(mm) : null,
      };
    }),
  ];
}

/** What the log changes of a mark's tag: guessed ones stand there as unknown. */
function tagOf(mark: Mark | undefined, kind: ArrowKind): Partial<Pick<Mark, 'kind' | 'kindFrom'>> {
  const isGuess = mark?.kindFrom === 'pattern';
  if (isGuess ? kind === 'unknown' : mark?.kind === kind) return {};
  return { kind, kindFrom: kind === 'unknown' ? null : 'person' };
}
