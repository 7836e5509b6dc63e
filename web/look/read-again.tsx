import { useSignal } from '@preact/signals';
import { SettingsForm } from '../parts/settings-form.tsx';
import { settingsSummary } from '../parts/settings-summary.ts';
import { readEnd } from '../open-ends/ends.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { settings, type Settings } from '../state/settings.ts';
import { say } from '../state/words.ts';

interface Props {
  readonly end: OpenEnd;
  readonly onPlace: () => void;
}

/** What was said about the end; what changes only the sums is applied at once, the rest reads anew. */
export function ReadAgain({ end, onPlace }: Props) {
  const readWith = useSignal(end.settings.value);
  const now = end.settings.value;
  const change = (next: Settings) => {
    end.settings.value = next;
    if (!end.isKept) settings.value = next;
  };
  const stale =
    now.face !== readWith.value.face ||
    now.shaftMm !== readWith.value.shaftMm ||
    now.fletched !== readWith.value.fletched ||
    now.bare !== readWith.value.bare;
  return (
    <details class="about">
      <summary>
        <span>{say('This end')}</span>
        <small>{settingsSummary(now)}</small>
      </summary>
      <SettingsForm value={now} onChange={change} />
      <label class="field">
        <span class="field-name">{say('Photo from before the end')}</span>
        <input
          type="file"
          accept="image/*"
          onChange={(event) => {
            end.before.value = event.currentTarget.files?.[0] ?? null;
          }}
        />
        <span class="field-note">{say('On a used face it tells old holes from new ones.')}</span>
      </label>
      <div class="button-row">
        <button
          type="button"
          class={`button${stale ? ' primary' : ''}`}
          onClick={() => {
            readWith.value = now;
            void readEnd(end);
          }}
        >
          {say('Read the photo again')}
        </button>
        <button type="button" class="button" onClick={onPlace}>
          {say('Place the face by hand')}
        </button>
      </div>
      <p class="quiet">{say('Drops the corrections made so far.')}</p>
    </details>
  );
}
