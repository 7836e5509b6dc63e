import { FACES } from '../../src/face/faces.ts';
import { SettingsForm } from '../parts/settings-form.tsx';
import { discardEnd, leaveViewOut, readEnd } from '../open-ends/ends.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { goTo } from '../state/route.ts';
import { settings } from '../state/settings.ts';
import { say, words } from '../state/words.ts';

interface Props {
  readonly end: OpenEnd;
  readonly onPlace: () => void;
}

/** Files that stay unreadable however often they are read. */
const NO_PHOTO = new Set(['not-a-photo', 'empty-file', 'too-many-pixels']);

/** Why the photo could not be read, and the ways on. */
export function FailedPanel({ end, onPlace }: Props) {
  const status = end.status.value;
  if (status.name !== 'failed') return null;
  const cancelled = status.code === 'cancelled';
  const isPhoto = !NO_PHOTO.has(status.code);
  const mayPlace = isPhoto && status.code !== 'vision-missing';
  /** The likeliest way on comes first. */
  const rank = (first: boolean) => (first ? 'button primary' : 'button');
  return (
    <section class="failed">
      <h1>{say(cancelled ? 'Stopped' : 'This photo was not read')}</h1>
      <p role="alert">{words.value.again(status.message)}</p>
      <div class="button-column">
        {status.looksLike && (
          <button
            type="button"
            class="button primary"
            onClick={() => {
              end.settings.value = { ...end.settings.value, face: status.looksLike! };
              void readEnd(end);
            }}
          >
            {say('Read it as the {face} face', { face: say(FACES[status.looksLike].name) })}
          </button>
        )}
        {mayPlace && (
          <button type="button" class={rank(!status.looksLike)} onClick={onPlace}>
            {say('Place the face by hand')}
          </button>
        )}
        {isPhoto && (
          <button type="button" class={rank(!mayPlace)} onClick={() => void readEnd(end)}>
            {say('Read it again')}
          </button>
        )}
        {end.also.value && (
          <button type="button" class="button" onClick={() => void leaveViewOut(end)}>
            {say('Leave the second one out')}
          </button>
        )}
        <button
          type="button"
          class={rank(!isPhoto)}
          onClick={() => {
            void discardEnd(end);
            goTo('home');
          }}
        >
          {say('Take another photo')}
        </button>
      </div>
      {isPhoto && !cancelled && (
        <details class="about">
          <summary>
            <span>{say('What was said about this end')}</span>
          </summary>
          <SettingsForm
            value={end.settings.value}
            onChange={(next) => (end.settings.value = settings.value = next)}
          />
        </details>
      )}
    </section>
  );
}
