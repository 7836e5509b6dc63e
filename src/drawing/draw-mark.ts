import type { Palette } from './palette.ts';
import { GLYPH_PATHS, type Glyph } from './mark-glyph.ts';
import { svg, svgNumber } from './svg.ts';

export interface MarkLook {
  readonly glyph: Glyph;
  readonly at: readonly [x: number, y: number];
  /** Radius of the sign, in units of the drawing. */
  readonly radius: number;
  /** Stroke width, in units of the drawing. */
  readonly stroke: number;
  readonly palette: Palette;
}

/** A mark's sign with its casing as an SVG group. */
export function drawMark({ glyph, at, radius, stroke, palette }: MarkLook): string {
  const common = {
    d: GLYPH_PATHS[glyph],
    fill: 'none',
    'stroke-linecap': 'round',
    'stroke-linejoin': 'round',
  };
  return svg(
    'g',
    {
      transform: `translate(${svgNumber(at[0])} ${svgNumber(at[1])}) scale(${svgNumber(radius)})`,
      class: `mark mark-${glyph}`,
    },
    svg('path', { ...common, stroke: palette.casing, 'stroke-width': (stroke * 2.4) / radius }),
    svg('path', { ...common, stroke: palette[glyph], 'stroke-width': stroke / radius }),
  );
}
