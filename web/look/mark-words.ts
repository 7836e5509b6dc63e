import { GLYPH_NAMES, glyphOf } from '../../src/drawing/mark-glyph.ts';
import type { ScoredMark } from '../../src/marks/mark.ts';

/** A mark's value in words. */
export function valueWords(mark: Pick<ScoredMark, 'zone' | 'inner'>): string {
  if (mark.inner) return 'X, the inner ten';
  return mark.zone === 0 ? 'miss' : String(mark.zone);
}

/** Where it lies, from the centre: '32 mm left, 12 mm high'. */
export function placeWords([x, y]: readonly [number, number]): string {
  return `${Math.abs(x).toFixed(0)} mm ${x < 0 ? 'left' : 'right'}, ${Math.abs(y).toFixed(0)} mm ${y < 0 ? 'low' : 'high'}`;
}

/** A mark for a screen reader. */
export function markWords(mark: ScoredMark, number: number): string {
  const value = mark.age === 'old' ? 'not counted' : `value ${valueWords(mark)}`;
  const arrow = mark.arrowNumber === undefined ? '' : ` arrow ${mark.arrowNumber},`;
  return `Mark ${number}:${arrow} ${GLYPH_NAMES[glyphOf(mark)]}, ${value}, ${placeWords(mark.mm)}`;
}
