import { GLYPH_PATHS, type Glyph } from '../../src/drawing/mark-glyph.ts';

/** A mark's sign beside text; it carries no name of its own. */
export function GlyphSign({ glyph, size = 22 }: { glyph: Glyph; size?: number }) {
  return (
    <svg
      class={`sign sign-${glyph}`}
      viewBox="-1.5 -1.5 3 3"
      width={size}
      height={size}
      aria-hidden
    >
      <path d={GLYPH_PATHS[glyph]} fill="none" stroke-linecap="round" stroke-linejoin="round" />
    </svg>
  );
}
