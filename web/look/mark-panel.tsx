import { useRef } from 'preact/hooks';
import { zoneLabel } from '../../src/drawing/zone-label.ts';
import { glyphOf, GLYPH_NAMES } from '../../src/drawing/mark-glyph.ts';
import { suggestKinds } from '../../src/groups/suggest-kinds.ts';
import { UnreadSizes } from '../parts/unread-sizes.tsx';
import { GlyphSign } from '../parts/glyph-sign.tsx';
import type { PageMark } from '../state/end-record.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { removeMark, setKind } from './edit-marks.ts';
import { placeWords, valueWords } from './mark-words.ts';
import { NumberRow } from './number-row.tsx';
import { ReadAgain } from './read-again.tsx';
import { SecondView } from './second-view.tsx';
import { readOtherFace, sideOf } from './read-other-face.ts';

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
  const fresh = marks.filter((mark) => mark.age !== 'old');
  const notes = [...reading.warnings, ...evaluation.notes, ...reading.fit.notes];

  return (
    <section class="panel panel-look" data-panel="look" aria-label="Marks" tabIndex={-1}>
      {end.unreadSizes.value !== null && <UnreadSizes end={end} />}
      {index >= 0 ? <Selected end={end} index={index} /> : <Hint end={end} />}
      {reading.faces.length > 1 && (
        <div class="button-row">
          {reading.faces.slice(1).map((face, i) => (
            <button key={i} type="button" class="button" onClick={() => readOtherFace(end, face)}>
              Read the face {sideOf(end, face)}
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
          {fresh.length} of this end, {marks.length - fresh.length} old
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
                  {GLYPH_NAMES[glyphOf(mark)]}
                  {mark.arrowNumber !== undefined && ` ${mark.arrowNumber}`}
                  <small>
                    {placeWords(mark.mm)}
                    {mark.confidence < 0.5 && ' · doubtful'}
                  </small>
                </span>
                <span class="visually-hidden">mark {i + 1}</span>
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
        <button type="button" class="round" aria-label="Previous mark" onClick={() => go(-1)}>
          ‹
        </button>
        <p aria-live="polite">
          <strong class="selected-value">
            {mark.age === 'old' ? 'Not counted' : valueWords(mark)}
          </strong>
          <span>
            {placeWords(mark.mm)} · <span class="whole">±{mark.sdMm.toFixed(1)} mm</span>
          </span>
          {mark.lineCall && mark.age !== 'old' && (
            <span class="line-call">
              could be {mark.lineCall.zone === 0 ? 'a miss' : mark.lineCall.zone} (
              {Math.round(mark.lineCall.p * 100)} %)
            </span>
          )}
          {mark.note && <span>{mark.note}</span>}
        </p>
        <button type="button" class="round" aria-label="Next mark" onClick={() => go(1)}>
          ›
        </button>
      </div>
      <div class="tag-row" role="group" aria-label="Tag this mark">
        {tags.map((tag) => (
          <button
            key={tag}
            type="button"
            aria-pressed={glyph === tag}
            onClick={() => setKind(end, mark.id, tag)}
          >
            <GlyphSign glyph={tag} size={26} />
            {tag === 'old' ? 'Old' : tag === 'bare' ? 'Bare' : 'Fletched'}
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
          Remove
        </button>
      </div>
      {mark.age !== 'old' && <NumberRow key={mark.id} end={end} id={mark.id} />}
    </div>
  );
}

function Hint({ end }: { end: OpenEnd }) {
  const marks = end.evaluation.value!.marks.filter((mark) => mark.age !== 'old');
  const count = (kind: string) => marks.filter((mark) => mark.kind === kind).length;
  if (marks.length === 0) {
    return (
      <div class="hint">
        <p>
          <strong>No marks of this end.</strong> Tap the face where an arrow hit.
        </p>
      </div>
    );
  }
  if (end.step.value === 'look') {
    return (
      <div class="hint">
        <p>Drag a mark to move it. Tap the face to add one.</p>
      </div>
    );
  }
  const untagged = count('unknown');
  return (
    <div class="hint">
      <p>
        <strong>
          {count('fletched')} fletched, {count('bare')} bare
          {untagged > 0 && `, ${untagged} not tagged`}.
        </strong>{' '}
        Tap a mark to change it.
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
          The tags are right
        </button>
      )}
    </div>
  );
}

/** Offers to tag the marks by where they lie, from the counts shot. */
function Suggest({ end }: { end: OpenEnd }) {
  const { fletched, bare, distanceM } = end.settings.value;
  if (fletched === null || bare === null) {
    return <p class="quiet">Say how many of each you shot, and the tags can be suggested.</p>;
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
      Suggest tags
    </button>
  );
}
