import type { PhotoPx } from '../../src/face/coordinates.ts';
import { placeWords } from './mark-words.ts';
import { toStage, type ViewTransform } from './view-transform.ts';
import { say } from '../state/words.ts';

interface Props {
  readonly places: readonly {
    readonly id: string;
    readonly px: PhotoPx;
    readonly mm: readonly [number, number];
  }[];
  readonly view: ViewTransform;
  readonly selected: string | null;
  readonly onSelect: (id: string) => void;
  readonly onAdd: (id: string) => void;
}

const RADIUS = 12;

/** Places where something shows that was not counted: seen by one tap or the focus, added by the next. */
export function PlacesLayer({ places, view, selected, onSelect, onAdd }: Props) {
  return (
    <g class="places">
      {places.map(({ id, px, mm }) => {
        const [x, y] = toStage(view, px);
        return (
          <g
            key={id}
            class={`uncounted${id === selected ? ' uncounted-selected' : ''}`}
            data-place={id}
            role="button"
            tabindex={0}
            aria-label={say('Not counted, {place}: add an arrow here', { place: placeWords(mm) })}
            transform={`translate(${x} ${y})`}
            onFocus={() => onSelect(id)}
            onKeyDown={(event) => {
              if (event.key !== 'Enter' && event.key !== ' ') return;
              event.preventDefault();
              event.stopPropagation();
              onAdd(id);
            }}
          >
            {[`uncounted-casing`, 'uncounted-line'].map((name) => (
              <g key={name} class={name}>
                <circle r={RADIUS} />
                <path d="M-5 0h10M0 -5v10" />
              </g>
            ))}
          </g>
        );
      })}
    </g>
  );
}
