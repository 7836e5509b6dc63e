import { useMemo, useRef } from 'preact/hooks';
import { pxPerMmAt } from './px-per-mm.ts';
import type { Reading } from '../../src/reading/reading.ts';
import { announce } from '../state/announce.ts';
import { shaftOf } from '../state/evaluate.ts';
import type { OpenEnd } from '../state/open-end.ts';
import type { PageMark } from '../state/end-record.ts';
import { addMark, addPlace, removeMark, setKind } from './edit-marks.ts';
import { MarksLayer } from './marks-layer.tsx';
import { markWords } from './mark-words.ts';
import { OtherFacesLayer } from './other-faces-layer.tsx';
import { PhotoStage, type StageMiddle } from './photo-stage.tsx';
import { PlacesLayer } from './places-layer.tsx';
import { otherFaceAt, readOtherFace } from './read-other-face.ts';
import { RingsLayer } from './rings-layer.tsx';
import { useSignal } from '@preact/signals';
import { say } from '../state/words.ts';

/** Arrow keys move a mark by this many photo pixels; with Shift ten times as far. */
const KEY_STEP_PX = 1;

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** The photo with rings and marks, and every way to correct them. */
export function LookStage({ end }: { end: OpenEnd }) {
  const middle = useRef<StageMiddle>({ px: [0, 0], slackPx: 0 });
  const rings = useSignal(true);
  const earlier = useSignal(true);
  const reading = end.reading.value;
  const evaluation = end.evaluation.value;
  const all = evaluation?.marks ?? [];
  const old = all.filter((mark) => mark.age === 'old').length;
  const marks = all
    .map((mark, i) => ({ ...mark, number: i + 1, px: end.shownAt(mark) }))
    .filter((mark) => earlier.value || mark.age !== 'old' || mark.id === end.selected.value);
  const step = end.step.value;
  const places = end.places.value.map((place) => ({ ...place, isFixed: true }));

  // Worked out once a reading: the view must not follow a mark that is being dragged.
  const homes = useMemo(() => (reading ? homesOf(reading, end) : []), [reading]);

  const markById = (id: string) => end.marks.value.find((mark) => mark.id === id);
  const move = (id: string, px: readonly [number, number]) => {
    const mark = markById(id);
    if (mark) end.moving.value = { id, mark: end.movedTo(mark, px) };
  };
  const drop = (id: string) => {
    const moved = end.moving.value?.mark;
    if (moved) end.change((all) => all.map((mark) => (mark.id === id ? settled(moved) : mark)));
    end.selected.value = id;
  };
  const sayMark = (id: string) => {
    const index = end.marks.value.findIndex((mark) => mark.id === id);
    const scored = end.evaluation.value?.marks[index];
    if (scored) announce(markWords(scored, index + 1));
  };

  const onKey = (event: KeyboardEvent, id: string) => {
    const mark = markById(id);
    if (!mark || event.ctrlKey || event.metaKey) return;
    const arrow = ARROWS[event.key];
    if (arrow) {
      const by = KEY_STEP_PX * (event.shiftKey ? 10 : 1);
      const [x, y] = end.shownAt(mark);
      const moved = end.movedTo(mark, [x + arrow[0] * by, y + arrow[1] * by]);
      end.change((all) => all.map((other) => (other.id === id ? settled(moved) : other)));
    } else if (event.key === 'Delete' || event.key === 'Backspace') {
      const at = marks.findIndex((other) => other.id === id);
      const next = marks[at + 1] ?? marks[at - 1];
      removeMark(end, id);
      focusOn(next ? `[data-mark="${next.id}"]` : '.stage-tools .add-mark');
    } else if (event.key === 'f') setKind(end, id, 'fletched');
    else if (event.key === 'b') setKind(end, id, 'bare');
    else if (event.key === 'o') setKind(end, id, 'old');
    else if (event.key === 'Enter' || event.key === ' ') end.selected.value = id;
    else return;
    event.preventDefault();
    event.stopPropagation();
  };

  const addAt = (id: string) => {
    const place = places.find((one) => one.id === id)!;
    addPlace(end, place);
    focusOn(`[data-mark="${end.selected.value}"]`);
  };
  const onTapHandle = (id: string) => {
    if (places.some((place) => place.id === id)) {
      if (end.selected.value === id) addAt(id);
      else end.selected.value = id;
      return;
    }
    end.selected.value = id;
    if (step === 'tag') {
      // As it is shown: guessed tags go with what is told of the others.
      const mark = marks.find((shown) => shown.id === id);
      if (mark) setKind(end, id, mark.kind === 'fletched' ? 'bare' : 'fletched');
      sayMark(id);
    }
  };
  const onTapPhoto = (px: readonly [number, number], slackPx: number) => {
    const other = reading && otherFaceAt(end, px);
    if (other) readOtherFace(end, other);
    else if (reading && step === 'look') addMark(end, px, slackPx);
    else end.selected.value = null;
  };

  return (
    <>
      <PhotoStage
        url={end.url}
        label={
          reading
            ? say(
                'Photo of the face with {marks} marks. Tab goes from mark to mark, arrow keys move one, plus and minus zoom.',
                { marks: marks.length },
              )
            : say('Photo of the face')
        }
        handles={[...places, ...marks]}
        homes={homes}
        loupePx={(px) => Math.max(pxPerMmAt(end, px) * shaftOf(reading, end.settings.value), 3)}
        middle={middle}
        onTapHandle={onTapHandle}
        onTapPhoto={onTapPhoto}
        onMove={move}
        onDrop={drop}
        onCancelMove={() => (end.moving.value = null)}
      >
        {({ view }) =>
          reading && (
            <>
              <OtherFacesLayer
                faces={reading.faces.slice(1)}
                view={view}
                onPick={(face) => readOtherFace(end, face)}
              />
              {rings.value && <RingsLayer fit={reading.fit} view={view} />}
              <PlacesLayer
                places={places}
                view={view}
                selected={end.selected.value}
                onSelect={(id) => (end.selected.value = id)}
                onAdd={addAt}
              />
              <MarksLayer
                marks={marks}
                view={view}
                selected={end.selected.value}
                onSelect={(id) => (end.selected.value = id)}
                onKey={onKey}
              />
            </>
          )
        }
      </PhotoStage>
      {reading && (
        <div class="stage-tools" role="toolbar" aria-label={say('Corrections')}>
          <button
            type="button"
            aria-label={say('Undo')}
            disabled={!end.canUndo.value}
            onClick={() => end.undo()}
          >
            <svg viewBox="0 0 24 24" aria-hidden>
              <path d="M9 6L4 11l5 5M4 11h10a6 6 0 0 1 0 12" transform="translate(0 -3)" />
            </svg>
          </button>
          <button
            type="button"
            aria-label={say('Redo')}
            disabled={!end.canRedo.value}
            onClick={() => end.redo()}
          >
            <svg viewBox="0 0 24 24" aria-hidden>
              <path d="M15 6l5 5-5 5M20 11H10a6 6 0 0 0 0 12" transform="translate(0 -3)" />
            </svg>
          </button>
          <button
            type="button"
            class="wide add-mark"
            onClick={() => addMark(end, middle.current.px, middle.current.slackPx)}
          >
            <svg viewBox="0 0 24 24" aria-hidden>
              <path d="M12 3l9 9-9 9-9-9zM12 8.5v7M8.5 12h7" />
            </svg>
            <span>{say('Add a mark')}</span>
          </button>
          <button
            type="button"
            aria-label={say('Rings')}
            aria-pressed={rings.value}
            onClick={() => (rings.value = !rings.value)}
          >
            <svg viewBox="0 0 24 24" aria-hidden>
              <circle cx="12" cy="12" r="9" />
              <circle cx="12" cy="12" r="4" />
            </svg>
          </button>
          {old > 0 && (
            <button
              type="button"
              class="wide"
              aria-pressed={earlier.value}
              onClick={() => (earlier.value = !earlier.value)}
            >
              <svg viewBox="0 0 24 24" aria-hidden>
                <path d="M6 6l4 4M18 6l-4 4M6 18l4-4M18 18l-4-4" />
              </svg>
              <span class="visually-hidden">{say('Old ({n})', { n: old })}</span>
              <span aria-hidden>{old}</span>
            </button>
          )}
        </div>
      )}
    </>
  );
}

/** What had the focus is gone: without this a keyboard would start from the top of the page again. */
function focusOn(selector: string): void {
  requestAnimationFrame(() => document.querySelector<HTMLElement | SVGElement>(selector)?.focus());
}

/** A mark that a person has placed is certain to be one. */
function settled(mark: PageMark): PageMark {
  return { ...mark, confidence: 1, age: mark.age === 'unknown' ? 'fresh' : mark.age };
}

type Box = readonly [left: number, top: number, right: number, bottom: number];

/** Parts of the photo to look at: where this end's arrows are, the whole face, and all faces. */
function homesOf(reading: Reading, end: OpenEnd): readonly Box[] {
  const rings = reading.fit.spots.flatMap((spot) => spot.rings.flatMap((ring) => ring.px));
  const face = boxAround(rings, 0.03);
  const every = reading.faces.flatMap(({ centrePx: [x, y], radiusPx }) => [
    [x - radiusPx, y - radiusPx] as const,
    [x + radiusPx, y + radiusPx] as const,
  ]);
  const wider = reading.faces.length > 1 ? [face, boxAround(every, 0.03)] : [face];
  const own = reading.marks.filter((mark) => mark.age !== 'old').map((mark) => end.shownAt(mark));
  if (own.length === 0) return wider;
  const centres = reading.fit.spots.map((spot) => spot.centrePx);
  const arrows = boxAround([...own, ...centres], 0.3);
  const size = (box: Box) => Math.max(box[2] - box[0], box[3] - box[1]);
  // A tight group would be shown so large that nobody could tell where on the face it is.
  const least = 0.5 * size(face);
  if (size(arrows) >= 0.85 * size(face)) return wider;
  const grow = Math.max(least - size(arrows), 0) / 2;
  return [[arrows[0] - grow, arrows[1] - grow, arrows[2] + grow, arrows[3] + grow], ...wider];
}

function boxAround(points: readonly (readonly [number, number])[], margin: number): Box {
  const xs = points.map((point) => point[0]);
  const ys = points.map((point) => point[1]);
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const [top, bottom] = [Math.min(...ys), Math.max(...ys)];
  const room = margin * Math.max(right - left, bottom - top);
  return [left - room, top - room, right + room, bottom + room];
}
