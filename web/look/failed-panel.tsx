import { FACES } from '../../src/face/faces.ts';
import { SettingsForm } from '../parts/settings-form.tsx';
import { discardEnd, readEnd } from '../open-ends/ends.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { goTo } from '../state/route.ts';
import { settings } from '../state/settings.ts';

interface Props {
  readonly end: OpenEnd;
  readonly onPlace: () => void;
}

/** Failures that no placing of the face can mend. */
const NOT_A_FACE = new Set(['not-a-photo', 'empty-file', 'too-many-pixels', 'vision-missing']);

/** Why the photo could not be read, and the ways on. */
export function FailedPanel({ end, onPlace }: Props) {
  const status = end.status.value;
  if (status.name !== 'failed') return null;
  const cancelled = status.code === 'cancelled';
  return (
    <section class="failed">
      <h1>{cancelled ? 'Stopped' : 'This photo was not read'}</h1>
      <p role="alert">{status.message}</p>
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
            Read it as the {FACES[status.looksLike].name} face
          </button>
        )}
        {!NOT_A_FACE.has(status.code) && (
          <button
            type="button"
            class={status.looksLike ? 'button' : 'button primary'}
            onClick={onPlace}
          >
            Place the face by hand
          </button>
        )}
        <button type="button" class="button" onClick={() => void readEnd(end)}>
          Read it again
        </button>
        <button
          type="button"
          class="button"
          onClick={() => {
            void discardEnd(end);
            goTo('home');
          }}
        >
          Take another photo
        </button>
      </div>
      {!cancelled && (
        <details class="about">
          <summary>
            <span>What was said about this end</span>
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
