import { useSignal } from '@preact/signals';
import { plungerScaleOf, withPlungerScale } from '../../src/tuning/bow/plunger-scale.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { TextField } from '../parts/text-field.tsx';
import { PlungerFields } from './plunger-fields.tsx';
import { say } from '../state/words.ts';

interface Props {
  readonly bow: Bow;
  /** Of this bow. */
  readonly setUps: readonly SetUp[];
  readonly onSave: (bow: Bow) => void;
  readonly onCancel: () => void;
}

/** What a bow is called, and how its plunger counts. */
export function BowForm({ bow, setUps, onSave, onCancel }: Props) {
  const name = useSignal(bow.name);
  const plunger = useSignal(plungerScaleOf(bow.adjusters));
  const ids = bow.adjusters.filter(({ part }) => part === 'plunger').map(({ id }) => id);
  return (
    <form
      class="set-up-form"
      onSubmit={(event) => {
        event.preventDefault();
        const said = name.value.trim();
        if (said === '') return;
        const adjusters = plunger.value
          ? withPlungerScale(bow.adjusters, plunger.value)
          : bow.adjusters;
        onSave({ ...bow, name: said, adjusters });
      }}
    >
      <TextField
        label={say('New name of the bow')}
        required
        maxLength={80}
        value={name.value}
        onInput={(value) => (name.value = value)}
      />
      {plunger.value && (
        <PlungerFields
          value={plunger.value}
          isRead={setUps.some(({ settings }) => ids.some((id) => settings[id]))}
          onChange={(value) => (plunger.value = value)}
        />
      )}
      <div class="button-row">
        <button type="submit" class="button primary">
          {say('Save the bow')}
        </button>
        <button type="button" class="button" onClick={onCancel}>
          {say('Cancel')}
        </button>
      </div>
    </form>
  );
}
