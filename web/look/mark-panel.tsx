import { Rich } from '../parts/rich.tsx';
import { useRef } from 'preact/hooks';
import { zoneLabel } from '../../src/drawing/zone-label.ts';
import { glyphOf, GLYPH_NAMES } from '../../src/drawing/mark-glyph.ts';
import { suggestKinds } from '../../src/groups/suggest-kinds.ts';
import { UnreadSizes } from '../parts/unread-sizes.tsx';
import { GlyphSign } from '../parts/glyph-sign.tsx';
import type { PageMark } from '../state/end-record.ts';
import type { OpenEnd, UncountedPlace } from '../state/open-end.ts';
import { addPlace, removeMark, setKind } from './edit-marks.ts';
import { placeWords, valueWords } from './mark-words.ts';
import { NumberRow } from './number-row.tsx';
import { ReadAgain } from './read-again.tsx';
import { SecondView } from './second-view.tsx';
import { readOtherFace, sideOf } from './read-other-face.ts';
import { count, say, words } from '../state/words.ts';

interface Props {
  readonly end: OpenEnd;
  readonly onPlace: () => void;
}

/** The selected mark's tags, the suggestion, and all marks as a list. */
export function MarkPanel({ end, onPlace }: Props) {
  const evaluation = end.evaluation.value;
  const reading = end.reading.value;
  if (!evaluation || !reading) return null;
  const { marks } = evaluation;
  const index = marks.findIndex((mark) => mark.id === end.selected.value);
  const place = end.places.value.find(({ id }) => id === end.selected.value);
  const fresh = marks.filter((mark) => mark.age !== 'old');
  const { again } = words.value;
  const notes = [
    ...reading.warnings.map(again),
    ...evaluation.notes.map(again),
    ...reading.fit.notes.map(again),
  ];

  return (
    <section class="panel panel-look" data-panel="look" aria-label={say('Marks')} tabIndex={-1}>
      {end.unreadSizes.value !== null && <UnreadSizes end={end} />}
      {index >= 0 ? (
        <Selected end={end} index={index} />
      ) : place ? (
        <Uncounted end={end} place={place} />
      ) : (
        <Hint end={end} />
      )}
      {reading.faces.length > 1 && (
        <div class="button-row">
          {reading.faces.slice(1).map((face, i) => (
            <button key={i} type="button" class="button" onClick={() => readOtherFace(end, face)}>
              {say(READ_FACE[sideOf(end, face)])}
            </button>
          ))}
        </div>
      )}
      {notes.length > 0 && (
        <ul class="notes">
          {notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      )}
      <details class="mark-list" open={matchMedia('(min-width: 1000px)').matches}>
        <summary>
          {count(
            marks.length - fresh.length,
            '{fresh} of this end, {n} old',
            '{fresh} of this end, {n} old',
            { fresh: fresh.length },
          )}
        </summary>
        <ol>
          {marks.map((mark, i) => (
            <li key={mark.id}>
              <button
                type="button"
                aria-pressed={mark.id === end.selected.value}
                onClick={() => (end.selected.value = mark.id)}
              >
                <GlyphSign glyph={glyphOf(mark)} />
                <b>{mark.age === 'old' ? '–' : zoneLabel(mark)}</b>
                <span>
                  {say(GLYPH_NAMES[glyphOf(mark)])}
                  {mark.arrowNumber !== undefined && ` ${mark.arrowNumber}`}
                  <small>
                    {placeWords(mark.mm)}
                    {mark.confidence < 0.5 && ` · ${say('doubtful')}`}
                  </small>
                </span>
                <span class="visually-hidden">{say('mark {number}', { number: i + 1 })}</span>
              </button>
            </li>
          ))}
        </ol>
      </details>
      <SecondView end={end} />
      <ReadAgain end={end} onPlace={onPlace} />
    </section>
  );
}

const READ_FACE = {
  left: 'Read the face on the left',
  right: 'Read the face on the right',
  above: 'Read the face above',
  below: 'Read the face below',
} as const;

/** A finger that goes so far to the left means to wipe the mark away, CSS px. */
const SWIPE_PX = 90;

function Selected({ end, index }: { end: OpenEnd; index: number }) {
  const marks = end.evaluation.value!.marks;
  const mark = marks[index]!;
  const glyph = glyphOf(mark);
  const go = (by: number) => {
    end.selected.value = marks[(index + by + marks.length) % marks.length]!.id;
  };
  const tags = ['fletched', 'bare', 'old'] as const;
  const swipeFrom = useRef<number | null>(null);
  const panel = useRef<HTMLDivElement>(null);
  return (
    <div
      ref={panel}
      class="selected"
      onPointerDown={(event) => (swipeFrom.current = event.clientX)}
      onPointerUp={(event) => {
        const from = swipeFrom.current;
        swipeFrom.current = null;
        if (from !== null && event.clientX - from < -SWIPE_PX) removeMark(end, mark.id);
      }}
    >
      <div class="selected-head">
        <button
          type="button"
          class="round"
          aria-label={say('Previous mark')}
          onClick={() => go(-1)}
        >
          ‹
        </button>
        <p aria-live="polite">
          <strong class="selected-value">
            {mark.age === 'old' ? say('Not counted') : valueWords(mark)}
          </strong>
          <span>{placeWords(mark.mm)}</span>
          <span class="whole">±{words.value.mm(mark.sdMm, 1)}</span>
          {mark.lineCall && mark.age !== 'old' && (
            <span class="line-call">
              {say('could be {value} ({p})', {
                value: mark.lineCall.zone === 0 ? say('a miss') : mark.lineCall.zone,
                p: words.value.percent(Math.round(mark.lineCall.p * 100)),
              })}
            </span>
          )}
          {mark.note && <span class="note">{words.value.again(mark.note)}</span>}
        </p>
        <button type="button" class="round" aria-label={say('Next mark')} onClick={() => go(1)}>
          ›
        </button>
      </div>
      <div class="tag-row" role="group" aria-label={say('Tag this mark')}>
        {tags.map((tag) => (
          <button
            key={tag}
            type="button"
            aria-pressed={glyph === tag}
            onClick={() => setKind(end, mark.id, tag)}
          >
            <GlyphSign glyph={tag} size={26} />
            {say(tag === 'old' ? 'Old' : tag === 'bare' ? 'Bare#tag' : 'Fletched#tag')}
          </button>
        ))}
        <button
          type="button"
          class="remove"
          onClick={() => {
            removeMark(end, mark.id);
            panel.current?.closest<HTMLElement>('.panel')?.focus({ preventScroll: true });
          }}
        >
          <svg viewBox="0 0 24 24" aria-hidden>
            <path d="M5 7h14M10 7V4h4v3M7 7l1 13h8l1-13" />
          </svg>
          {say('Remove')}
        </button>
      </div>
      {mark.age !== 'old' && <NumberRow key={mark.id} end={end} id={mark.id} />}
    </div>
  );
}

/** Something that was not counted, and the way to say that it is an arrow. */
function Uncounted({ end, place }: { end: OpenEnd; place: UncountedPlace }) {
  return (
    <div class="hint">
      <p aria-live="polite">
        <strong>{say('Not counted')}</strong>: {placeWords(place.mm)}
      </p>
      <button type="button" class="button primary" onClick={() => addPlace(end, place)}>
        {say('An arrow is here')}
      </button>
    </div>
  );
}

function Hint({ end }: { end: OpenEnd }) {
  const marks = end.evaluation.value!.marks.filter((mark) => mark.age !== 'old');
  const counted = (kind: string) => marks.filter((mark) => mark.kind === kind).length;
  if (marks.length === 0) {
    return (
      <div class="hint">
        <p>
          <Rich mark={(part) => <strong>{part}</strong>}>
            {say('<b>No marks of this end.</b> Tap the face where an arrow hit.')}
          </Rich>
        </p>
      </div>
    );
  }
  if (end.step.value === 'look') {
    const places = end.places.value.length;
    return (
      <div class="hint">
        <p>
          {say('Drag a mark to move it, tap the face to add one.')}
          {places > 0 &&
            ` ${count(
              places,
              'Dotted circle: seen, not counted.',
              'Dotted circles: seen, not counted ({n}).',
            )}`}
        </p>
      </div>
    );
  }
  const untagged = counted('unknown');
  return (
    <div class="hint">
      <p>
        <strong>
          {say('{fletched} fletched, {bare} bare', {
            fletched: counted('fletched'),
            bare: counted('bare'),
          })}
          {untagged > 0 && `, ${say('{n} not tagged', { n: untagged })}`}.
        </strong>{' '}
        {say('Tap a mark to change it.')}
      </p>
      {untagged > 0 && !end.tagsConfirmed.value && <Suggest end={end} />}
      {untagged === 0 && !end.tagsConfirmed.value && (
        <button
          type="button"
          class="button primary"
          onClick={() => {
            end.tellTags();
            end.step.value = 'verdict';
          }}
        >
          {say('The tags are right')}
        </button>
      )}
    </div>
  );
}

/** Offers to tag the marks by where they lie, from the counts shot. */
function Suggest({ end }: { end: OpenEnd }) {
  const { fletched, bare, distanceM } = end.settings.value;
  if (fletched === null || bare === null) {
    return <p class="quiet">{say('Say how many of each you shot for a suggestion.')}</p>;
  }
  const apply = () => {
    const fresh = end.marks.value.filter((mark) => mark.age !== 'old');
    const suggested = suggestKinds(fresh, { fletched, bare, distanceM: distanceM ?? undefined });
    const kinds = new Map(fresh.map((mark, i) => [mark.id, suggested[i]!.kind]));
    end.change((marks) =>
      marks.map((mark): PageMark => {
        const kind = kinds.get(mark.id);
        return kind === undefined ? mark : { ...mark, kind, kindFrom: 'pattern' };
      }),
    );
  };
  return (
    <button type="button" class="button" onClick={apply}>
      {say('Suggest tags')}
    </button>
  );
}
