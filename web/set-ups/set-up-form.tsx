import { useSignal } from '@preact/signals';
import { v4 as newId } from 'uuid';
import { checkSetUp } from '../../src/tuning/bow/check-set-up.ts';
import { preferredWords } from '../../src/tuning/bow/preferred-offset.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { UnitStepper } from '../parts/unit-stepper.tsx';
import { SettingField } from './setting-field.tsx';
import { TextField } from '../parts/text-field.tsx';
import { count, say, words } from '../state/words.ts';

interface Props {
  readonly bow: Bow;
  /** The set-up to start from. */
  readonly from: SetUp | null;
  /** The set-up that is corrected, where none is to be added. */
  readonly corrected?: SetUp | null;
  /** How many ends were shot with it. */
  readonly ends?: number;
  readonly onSave: (setUp: SetUp) => void;
  readonly onCancel: () => void;
}

/** Writes down how the bow is set now, as a new dated snapshot; or corrects one. */
export function SetUpForm({ bow, from, corrected = null, ends = 0, onSave, onCancel }: Props) {
  const name = useSignal(corrected?.name ?? '');
  const notes = useSignal(corrected?.notes ?? '');
  const settings = useSignal<SetUp['settings']>(from?.settings ?? {});
  const preferred = useSignal<[number, number]>(from?.preferredMrad ?? [0, 0]);
  const problems = checkSetUp(bow, { bowId: bow.id, settings: settings.value }, words.value);
  /** What says nothing about the bow is not worth a page of the book. */
  const isEmpty =
    Object.keys(settings.value).length === 0 &&
    notes.value.trim() === '' &&
    preferred.value.every((mrad) => mrad === 0);
  const askForReading = useSignal(false);
  const distance = words.value.metres(30);
  const at30 = (axis: 0 | 1) => Math.round(preferred.value[axis] * 30);
  const setAt30 = (axis: 0 | 1, mm: number | null) => {
    const next: [number, number] = [...preferred.value];
    next[axis] = (mm ?? 0) / 30;
    preferred.value = next;
  };
  return (
    <form
      class="card set-up-form"
      onSubmit={(event) => {
        event.preventDefault();
        askForReading.value = isEmpty;
        if (problems.length > 0 || isEmpty) return;
        onSave({
          ...(corrected ?? { id: newId(), bowId: bow.id, date: new Date().toISOString() }),
          name: name.value.trim() || say('Set-up'),
          settings: settings.value,
          preferredMrad: preferred.value,
          notes: notes.value,
        });
      }}
    >
      <h2>
        {corrected
          ? say('Correct “{setUp}”', { setUp: corrected.name })
          : say('How {bow} is set now', { bow: bow.name })}
      </h2>
      <p class="quiet">
        {corrected
          ? [
              say('Say what was wrongly written down.'),
              ...(ends === 0
                ? []
                : [
                    count(
                      ends,
                      'It holds for the one end shot with it too.',
                      'It holds for the {n} ends shot with it too.',
                    ),
                  ]),
              say('If the bow itself was changed, write down a change instead.'),
            ].join(' ')
          : say('Leave out what you have not measured.')}
      </p>
      <div class="settings">
        <TextField
          label={say('Name of this set-up')}
          maxLength={80}
          placeholder={say('Two clicks softer')}
          value={name.value}
          onInput={(value) => (name.value = value)}
        />
        {bow.adjusters.map((adjuster) => (
          <SettingField
            key={adjuster.id}
            adjuster={adjuster}
            value={settings.value[adjuster.id]}
            onChange={(setting) => {
              const next = { ...settings.value };
              if (setting) next[adjuster.id] = setting;
              else delete next[adjuster.id];
              settings.value = next;
            }}
          />
        ))}
      </div>
      <h3>{say('Where you want the bare shafts')}</h3>
      <p class="quiet">
        {say('Now: {preferred}. Zero for most; if your best scores come with an offset, say it.', {
          preferred: preferredWords(preferred.value, bow.hand, words.value),
        })}
      </p>
      <div class="settings">
        <UnitStepper
          label={say('Up from the fletched group, at {distance}', { distance })}
          unit="mm"
          value={at30(1)}
          min={-200}
          max={200}
          step={10}
          onChange={(mm) => setAt30(1, mm)}
        />
        <UnitStepper
          label={say('Right of the fletched group, at {distance}', { distance })}
          unit="mm"
          value={at30(0)}
          min={-200}
          max={200}
          step={10}
          onChange={(mm) => setAt30(0, mm)}
        />
      </div>
      <label class="field">
        <span class="field-name">{say('Note')}</span>
        <textarea
          rows={2}
          maxLength={4000}
          value={notes.value}
          onInput={(event) => (notes.value = event.currentTarget.value)}
        />
      </label>
      {problems.length > 0 && (
        <ul class="notes" role="alert">
          {problems.map((problem) => (
            <li key={problem.message}>{problem.message}</li>
          ))}
        </ul>
      )}
      {askForReading.value && isEmpty && (
        <p class="notes" role="alert">
          {say('Nothing written down yet: give a reading or a note.')}
        </p>
      )}
      <div class="button-row">
        <button type="submit" class="button primary" disabled={problems.length > 0}>
          {say(corrected ? 'Save the correction' : 'Write it down')}
        </button>
        <button type="button" class="button" onClick={onCancel}>
          {say('Cancel')}
        </button>
      </div>
    </form>
  );
}
