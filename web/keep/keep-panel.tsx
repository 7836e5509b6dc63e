import { useSignal } from '@preact/signals';
import { announce } from '../state/announce.ts';
import { openEnds } from '../open-ends/ends.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { goTo, type Page } from '../state/route.ts';
import { sayOfEnd } from '../open-ends/say-of-end.ts';
import { settingOf, settings, today } from '../state/settings.ts';
import { usualDistancesM } from '../../src/face/usual-distances.ts';
import { Choice } from '../parts/choice.tsx';
import { AskHand } from '../parts/ask-hand.tsx';
import { UnitStepper } from '../parts/unit-stepper.tsx';
import { UnreadSizes } from '../parts/unread-sizes.tsx';
import { correctedReading } from './corrected-reading.ts';
import { download } from '../files/download.ts';
import { handOverWhat } from './hand-over.ts';
import { keepEnd } from './keep-end.ts';
import { pictureOf } from './picture-of.ts';
import { SetUpChoice } from './set-up-choice.tsx';
import { canShare, sharePicture } from './share-picture.ts';
import { TextField } from '../parts/text-field.tsx';
import { say, words } from '../state/words.ts';

/** Keeping the end on this device, and taking it away as files. */
export function KeepPanel({
  end,
  verdict,
  next,
}: {
  readonly end: OpenEnd;
  /** Where to go once it is kept; null for the next photo that is open, else what is kept. */
  readonly next: Page | null;
  /** In a few words, as it is shown. */
  readonly verdict: () => string;
}) {
  const busy = useSignal(false);
  const noRoom = useSignal(false);
  if (!end.reading.value) return null;
  if (end.unreadSizes.value !== null) {
    return (
      <section class="panel panel-keep" data-panel="keep" aria-label={say('Keep')}>
        <UnreadSizes end={end} />
      </section>
    );
  }
  const keep = async () => {
    busy.value = true;
    noRoom.value = false;
    try {
      await keepEnd(end);
      announce(say('Kept on this device.'));
      const open = openEnds.value[0];
      if (next !== null) goTo(next);
      else if (open) goTo('end', open.id);
      else goTo('kept');
    } catch {
      noRoom.value = true;
    } finally {
      busy.value = false;
    }
  };
  const stem = end.photoName.replace(/\.[^.]*$/, '') || 'end';
  return (
    <section class="panel panel-keep" data-panel="keep" aria-label={say('Keep')}>
      <h2>{say('Keep this end')}</h2>
      {end.evaluation.value?.guessedTags && (
        <div class="ask">
          <p>
            {say(
              'Which arrows are bare shafts is a guess: until you say it, the log learns nothing from this end.',
            )}
          </p>
          <button type="button" class="button" onClick={() => (end.step.value = 'verdict')}>
            {say('Say which are bare')}
          </button>
        </div>
      )}
      <TextField
        label={say('Archer')}
        maxLength={80}
        autocomplete="off"
        placeholder={say('Name')}
        value={end.settings.value.archer}
        onInput={(archer) => sayOfEnd(end, { archer })}
      />
      <SetUpChoice end={end} />
      <AskHand end={end} />
      <TextField
        label={say('Place')}
        maxLength={120}
        autocomplete="off"
        placeholder={say('Ground or hall')}
        value={end.settings.value.place}
        onInput={(place) => sayOfEnd(end, { place })}
      />
      <Choice
        label={say('Shot#where')}
        value={settingOf(end.settings.value)}
        options={[
          { value: 'outdoor', label: say('outdoors') },
          { value: 'indoor', label: say('indoors') },
        ]}
        onChange={(setting) => sayOfEnd(end, { setting })}
      />
      {settingOf(end.settings.value) === 'outdoor' && (
        <TextField
          label={say('Wind')}
          maxLength={120}
          autocomplete="off"
          placeholder={say('None, light from the left…')}
          value={end.settings.value.wind}
          onInput={(wind) => sayOfEnd(end, { wind, windDay: today() })}
        />
      )}
      <label class="field">
        <span class="field-name">{say('Note')}</span>
        <textarea
          rows={2}
          maxLength={2000}
          placeholder={say('A new spring, how it felt…')}
          value={end.note.value}
          onInput={(event) => (end.note.value = event.currentTarget.value)}
        />
      </label>
      {end.settings.value.distanceM === null && <AskDistance end={end} />}
      <button
        type="button"
        class="button primary big"
        disabled={busy.value || end.hand.value === null}
        onClick={() => void keep()}
      >
        {say('Keep')}
      </button>
      {noRoom.value && (
        <p class="failure" role="alert">
          {say(
            'No room on this device: the end is not kept. Make room and keep it again, or download it.',
          )}
        </p>
      )}
      <p class="quiet">
        {handOverWhat.value === 'off'
          ? say('Stays on this device. Nothing is sent unless you say so.')
          : say(
              handOverWhat.value === 'ends'
                ? 'Kept here, and in the log at {host} without the photo when it can be reached.'
                : 'Kept here, and in the log at {host} when it can be reached.',
              { host: location.host },
            )}
      </p>
      <div class="button-row">
        <button
          type="button"
          class="button"
          onClick={() => {
            const text = JSON.stringify(correctedReading(end), null, 2);
            download(new Blob([text], { type: 'application/json' }), `${stem}-reading.json`);
          }}
        >
          {say('Reading as JSON')}
        </button>
        <button
          type="button"
          class="button"
          onClick={() =>
            void pictureOf(end, verdict()).then((picture) =>
              sharePicture(picture, `${stem}-reading.jpg`),
            )
          }
        >
          {say(canShare() ? 'Share the picture' : 'Picture')}
        </button>
      </div>
    </section>
  );
}

/** Kept without a distance, an end counts for its score alone: so it is asked for, never guessed. */
function AskDistance({ end }: { end: OpenEnd }) {
  const last = settings.value.distanceM;
  const tell = (distanceM: number | null) => sayOfEnd(end, { distanceM });
  return (
    <div class="ask">
      <p>
        {say('From where was it shot? Without the distance only the score of this end counts.')}
      </p>
      {last !== null && (
        <button type="button" class="button" onClick={() => tell(last)}>
          {say('{distance}, as last time', { distance: words.value.metres(last) })}
        </button>
      )}
      <UnitStepper
        label={say('Distance')}
        unit="m"
        value={null}
        min={2}
        max={120}
        start={last ?? usualDistancesM(end.reading.value!.face)[0]!}
        onChange={tell}
      />
    </div>
  );
}
