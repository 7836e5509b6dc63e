import type { PhotoPx } from '../../src/face/coordinates.ts';
import { GLYPH_PATHS, glyphOf } from '../../src/drawing/mark-glyph.ts';
import { zoneLabel } from '../../src/drawing/zone-label.ts';
import type { ScoredMark } from '../../src/marks/mark.ts';
import { markWords } from './mark-words.ts';
import { toStage, type ViewTransform } from './view-transform.ts';

interface Props {
  readonly marks: readonly (ScoredMark & { readonly px: PhotoPx; readonly number: number })[];
  readonly view: ViewTransform;
  readonly selected: string | null;
  readonly onSelect: (id: string) => void;
  readonly onKey: (event: KeyboardEvent, id: string) => void;
}

const RADIUS = 12;
const OLD_RADIUS = 9;

/** The marks' signs and values over the photo, each a button for keyboard and screen reader. */
export function MarksLayer({ marks, view, selected, onSelect, onKey }: Props) {
  const at = marks.map((mark) => toStage(view, mark.px));
  return (
    <g class="marks">
      {marks.map((mark, i) => {
        const glyph = glyphOf(mark);
        const [x, y] = at[i]!;
        const [lx, ly] = labelDirection(at, i);
        const radius = glyph === 'old' ? OLD_RADIUS : RADIUS;
        return (
          <g
            key={mark.id}
            class={`mark mark-${glyph}${mark.id === selected ? ' mark-selected' : ''}${mark.confidence < 0.5 ? ' mark-doubtful' : ''}`}
            data-mark={mark.id}
            role="button"
            tabindex={0}
            aria-label={markWords(mark, mark.number)}
            aria-pressed={mark.id === selected}
            transform={`translate(${x} ${y})`}
            onFocus={() => onSelect(mark.id)}
            onKeyDown={(event) => onKey(event, mark.id)}
          >
            {mark.id === selected && <circle class="mark-halo" r={radius + 10} />}
            <g transform={`scale(${radius})`}>
              <path class="mark-casing" d={GLYPH_PATHS[glyph]} />
              <path class="mark-line" d={GLYPH_PATHS[glyph]} />
            </g>
            {glyph !== 'old' && (
              <text
                class="mark-value"
                x={lx * (radius + 14)}
                y={ly * (radius + 14) + 6}
                text-anchor="middle"
              >
                {zoneLabel(mark)}
                {mark.arrowNumber !== undefined && (
                  <tspan class="mark-number" dx="4">
                    {`(${mark.arrowNumber})`}
                  </tspan>
                )}
              </text>
            )}
          </g>
        );
      })}
    </g>
  );
}

/** Away from the neighbours, so that values do not lie on signs. */
function labelDirection(
  at: readonly (readonly [number, number])[],
  of: number,
): readonly [number, number] {
  const [x, y] = at[of]!;
  let [sx, sy] = [0.35, -0.6];
  at.forEach(([ox, oy], i) => {
    const d2 = (x - ox) ** 2 + (y - oy) ** 2;
    if (i === of || d2 > 120 ** 2) return;
    sx += ((x - ox) * 40) / (d2 + 40);
    sy += ((y - oy) * 40) / (d2 + 40);
  });
  const length = Math.hypot(sx, sy) || 1;
  return [sx / length, sy / length];
}
