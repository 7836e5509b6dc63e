import { say, words } from '../state/words.ts';
import { GLYPH_NAMES, glyphOf } from '../../src/drawing/mark-glyph.ts';
import type { ScoredMark } from '../../src/marks/mark.ts';

/** A mark's value in words. */
export function valueWords(mark: Pick<ScoredMark, 'zone' | 'inner'>): string {
  if (mark.inner) return say('X, the inner ten');
  return mark.zone === 0 ? say('miss') : String(mark.zone);
}

/** Where it lies, from the centre: '32 mm left, 12 mm high'. */
export function placeWords([x, y]: readonly [number, number]): string {
  const size = (mm: number) => ({ size: words.value.mm(Math.abs(mm)) });
  return `${say(x < 0 ? '{size} left' : '{size} right', size(x))}, ${say(y < 0 ? '{size} low' : '{size} high', size(y))}`;
}

/** A mark for a screen reader. */
export function markWords(mark: ScoredMark, number: number): string {
  const said = {
    number,
    kind: say(GLYPH_NAMES[glyphOf(mark)]),
    value:
      mark.age === 'old' ? say('not counted') : say('value {value}', { value: valueWords(mark) }),
    place: placeWords(mark.mm),
  };
  return mark.arrowNumber === undefined
    ? say('Mark {number}: {kind}, {value}, {place}', said)
    : say('Mark {number}: arrow {arrow}, {kind}, {value}, {place}', {
        ...said,
        arrow: mark.arrowNumber,
      });
}
