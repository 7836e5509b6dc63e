import type { ScoredMark } from '../marks/mark.ts';
import type { End } from '../tuning/record/session.ts';

/**
 * The marks of an end as the log keeps its arrows; old ones are not among them. A tag that was guessed is
 * none: what the log learns it would take for told.
 */
export function arrowsOfMarks(
  marks: readonly Pick<
    ScoredMark,
    'id' | 'mm' | 'sdMm' | 'spot' | 'kind' | 'kindFrom' | 'zone' | 'inner' | 'age' | 'arrowNumber'
  >[],
): End['arrows'] {
  return marks
    .filter((mark) => mark.age !== 'old')
    .map(({ id, mm, sdMm, spot, kind, kindFrom, zone, inner, arrowNumber }) => ({
      id,
      mm: [mm[0], mm[1]],
      sdMm,
      spot,
      kind: kindFrom === 'pattern' ? 'unknown' : kind,
      zone,
      inner,
      ...(arrowNumber === undefined ? {} : { arrowNumber }),
    }));
}
