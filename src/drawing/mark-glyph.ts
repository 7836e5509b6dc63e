import type { PlainText } from '../words/words.ts';
import type { ArrowKind, MarkAge } from '../marks/mark.ts';
import { svgNumber } from './svg.ts';

export type Glyph = ArrowKind | 'old';

/** Which sign a mark wears: its kind while it may be of this end, a cross once it is old. */
export function glyphOf(mark: { readonly kind: ArrowKind; readonly age: MarkAge }): Glyph {
  return mark.age === 'old' ? 'old' : mark.kind;
}

const circle = (radius: number): string => {
  const r = svgNumber(radius);
  return `M-${r} 0A${r} ${r} 0 1 1 ${r} 0A${r} ${r} 0 1 1 -${r} 0Z`;
};

/** Three strokes outwards, as vanes stand around a shaft seen from its nock. */
function vanes(inner: number, outer: number): string {
  return [-90, 30, 150]
    .map((degrees) => {
      const angle = (degrees * Math.PI) / 180;
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      return `M${svgNumber(c * inner)} ${svgNumber(s * inner)}L${svgNumber(c * outer)} ${svgNumber(s * outer)}`;
    })
    .join('');
}

/**
 * Path data of a mark's sign at unit radius around (0, 0), to be stroked. Arrows are drawn as they
 * look from the nock end: a fletched arrow is a shaft with three vanes, a bare shaft a plain tube.
 * An untagged mark is a diamond and an old one a cross. The middle stays open, so that the hole
 * can be seen through it.
 */
export const GLYPH_PATHS: Readonly<Record<Glyph, string>> = {
  fletched: circle(0.42) + vanes(0.42, 1.12),
  bare: circle(0.82),
  unknown: 'M0 -1L1 0L0 1L-1 0Z',
  old: 'M-0.6 -0.6L-0.2 -0.2M0.6 -0.6L0.2 -0.2M-0.6 0.6L-0.2 0.2M0.6 0.6L0.2 0.2',
};

/** What the sign is called. */
export const GLYPH_NAMES: Readonly<Record<Glyph, PlainText>> = {
  fletched: 'fletched',
  bare: 'bare',
  unknown: 'not tagged',
  old: 'old hole',
};
