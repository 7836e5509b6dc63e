import type { PlainText } from '../../src/words/words.ts';
import { useEffect, useRef } from 'preact/hooks';
import { currentEnd, discardEnd, leave, openEnds, restore } from '../open-ends/ends.ts';
import { type OpenEnd } from '../state/open-end.ts';
import { STEPS, type Step } from '../state/end-record.ts';
import { goTo, hashOf, route } from '../state/route.ts';
import { useSignal } from '@preact/signals';
import { isOfEvening } from '../evening/evening-places.ts';
import { KeepPanel } from '../keep/keep-panel.tsx';
import { FailedPanel } from '../look/failed-panel.tsx';
import { LookStage } from '../look/look-stage.tsx';
import { MarkPanel } from '../look/mark-panel.tsx';
import { PlaceFace } from '../look/place-face.tsx';
import { ScoreBar } from '../look/score-bar.tsx';
import { WorkingPanel } from '../look/working-panel.tsx';
import { headline, VerdictPanel } from '../verdict/verdict-panel.tsx';
import { count, say } from '../state/words.ts';

const STEP_NAMES: Readonly<Record<Step, PlainText>> = {
  look: 'Look#step',
  tag: 'Tag#step',
  verdict: 'Verdict',
  keep: 'Keep#step',
};

/** One end from photo to kept: the photo beside what is said about it. */
export function EndPage() {
  const end = currentEnd();
  const id = route.value.id;
  const missing = useSignal(false);
  useEffect(() => {
    missing.value = false;
    if (end || id === null) return;
    void restore(id).then((found) => (missing.value = found === null));
  }, [id, end]);

  if (end) return <Open key={end.id} end={end} />;
  return (
    <main class="page">
      {missing.value || id === null ? (
        <section class="empty">
          <h1>{say('This end is not here')}</h1>
          <p>{say('It was not kept here, came without its photo, or was deleted.')}</p>
          <a class="button primary" href={hashOf('home')}>
            {say('Photograph a face')}
          </a>
        </section>
      ) : (
        <p class="quiet">{say('Opening the end…')}</p>
      )}
    </main>
  );
}

/** Failures that leave nothing to look at. */
const NO_PICTURE = new Set(['not-a-photo', 'empty-file']);

function Open({ end }: { end: OpenEnd }) {
  const placing = useSignal(false);
  const side = useRef<HTMLElement>(null);
  const status = end.status.value;
  const step = end.step.value;
  const read = status.name === 'read' && end.reading.value !== null;
  const noPhoto = status.name === 'failed' && NO_PICTURE.has(status.code);

  useEffect(() => () => void leave(end), [end]);
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const typing = (event.target as Element).closest('input, textarea, select');
      if (typing || !(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== 'z') return;
      event.preventDefault();
      if (event.shiftKey) end.redo();
      else end.undo();
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [end]);

  if (placing.value) return <PlaceFace end={end} onDone={() => (placing.value = false)} />;

  return (
    <main
      class={`end${read ? '' : ' end-unread'}${noPhoto ? ' end-no-photo' : ''}`}
      data-step={step}
    >
      {isOfEvening(end.id) ? (
        <a class="back-to-evening" href={hashOf('evening')}>
          {say('Back to the evening')}
        </a>
      ) : (
        <Queue current={end} />
      )}
      <section class="end-photo" aria-label={say('Photo')}>
        <LookStage end={end} />
      </section>
      <section ref={side} class="end-side" aria-label={say('Reading')}>
        {status.name === 'reading' || status.name === 'waiting' ? (
          <WorkingPanel end={end} />
        ) : status.name === 'failed' ? (
          <FailedPanel end={end} onPlace={() => (placing.value = true)} />
        ) : (
          <>
            <h1 class="visually-hidden">
              {end.settings.value.archer
                ? say('End of {archer}', { archer: end.settings.value.archer })
                : say('End')}
            </h1>
            <ScoreBar end={end} />
            <MarkPanel end={end} onPlace={() => (placing.value = true)} />
            <VerdictPanel end={end} />
            <KeepPanel
              end={end}
              verdict={() => headline(end.evaluation.value!.tuning, end)}
              next={isOfEvening(end.id) ? 'evening' : null}
            />
          </>
        )}
      </section>
      {read && (
        <nav class="steps" aria-label={say('Steps')}>
          {STEPS.map((name, i) => (
            <button
              key={name}
              type="button"
              aria-current={name === step ? 'step' : undefined}
              onClick={() => {
                end.step.value = name;
                showPanel(side.current, name);
              }}
            >
              <span class="step-number" aria-hidden>
                {i + 1}
              </span>
              {say(STEP_NAMES[name])}
            </button>
          ))}
        </nav>
      )}
    </main>
  );
}

/** Brings a step's panel to the top of the side column; the page itself never scrolls. */
function showPanel(side: HTMLElement | null, step: Step): void {
  const panel = side?.querySelector<HTMLElement>(
    `[data-panel='${step === 'tag' ? 'look' : step}']`,
  );
  if (!side || !panel) return;
  const calm = matchMedia('(prefers-reduced-motion: reduce)').matches;
  side.scrollTo({
    top: step === 'look' || step === 'tag' ? 0 : panel.offsetTop - side.offsetTop,
    behavior: calm ? 'auto' : 'smooth',
  });
}

/** The other photos of the same batch, when there are several. */
function Queue({ current }: { current: OpenEnd }) {
  const ends = openEnds.value;
  if (ends.length < 2) return null;
  const failed = ends.filter((end) => end.status.value.name === 'failed');
  const clear = async () => {
    const stays = ends.find((end) => !failed.includes(end));
    if (failed.includes(current)) goTo(stays ? 'end' : 'home', stays?.id);
    for (const end of failed) await discardEnd(end);
  };
  const statuses = {
    waiting: 'waiting',
    reading: 'being read',
    failed: 'not read#photo',
    read: 'read#photo',
  } as const;
  return (
    <nav class="queue" aria-label={say('Photos')}>
      {ends.map((end, i) => (
        <button
          key={end.id}
          type="button"
          aria-current={end === current ? 'true' : undefined}
          aria-label={say('Photo {number}: {status}', {
            number: i + 1,
            status: say(statuses[end.status.value.name]),
          })}
          data-status={end.status.value.name}
          onClick={() => goTo('end', end.id)}
        >
          <img
            src={end.url}
            alt=""
            onError={(event) => (event.currentTarget.style.visibility = 'hidden')}
          />
        </button>
      ))}
      {failed.length > 0 && (
        <button type="button" class="queue-clear" onClick={() => void clear()}>
          {count(failed.length, 'Clear the one not read', 'Clear the {n} not read')}
        </button>
      )}
    </nav>
  );
}
