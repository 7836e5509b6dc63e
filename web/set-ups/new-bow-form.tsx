import { useSignal } from '@preact/signals';
import { v4 as newId } from 'uuid';
import { UNSAID_PLUNGER, withPlungerScale } from '../../src/tuning/bow/plunger-scale.ts';
import { standardAdjusters } from '../../src/tuning/bow/standard-adjusters.ts';
import type { Bow } from '../../src/tuning/bow/set-up.ts';
import { HandChoice } from '../parts/hand-choice.tsx';
import { announce } from '../state/announce.ts';
import { settings } from '../state/settings.ts';
import { NOBODY } from '../store/log-of-kept.ts';
import { PlungerFields } from './plunger-fields.tsx';
import { TextField } from '../parts/text-field.tsx';
import { say } from '../state/words.ts';

interface Props {
  readonly onSave: (bow: Bow) => void;
}

/** A bow needs a name and a hand; its adjusters are the usual ones. */
export function NewBowForm({ onSave }: Props) {
  const name = useSignal('');
  const archer = useSignal(settings.value.archer);
  const hand = useSignal(settings.value.hand);
  const plunger = useSignal(UNSAID_PLUNGER);
  return (
    <form
      class="card set-up-form"
      onSubmit={(event) => {
        event.preventDefault();
        if (name.value.trim() === '') return;
        if (hand.value === null) {
          announce(say('Say first whether it is shot right- or left-handed.'));
          return;
        }
        onSave({
          id: newId(),
          archerId: archer.value.trim() || NOBODY,
          name: name.value.trim(),
          hand: hand.value,
          adjusters: withPlungerScale(standardAdjusters(), plunger.value),
          notes: '',
        });
      }}
    >
      <h2>{say('Add a bow')}</h2>
      <div class="settings">
        <TextField
          label={say('Name of the bow')}
          required
          maxLength={80}
          placeholder={say('The blue one')}
          value={name.value}
          onInput={(value) => (name.value = value)}
        />
        <TextField
          label={say('Archer')}
          maxLength={80}
          value={archer.value}
          onInput={(value) => (archer.value = value)}
        />
        <HandChoice
          label={say('Shot#hand')}
          value={hand.value}
          onChange={(next) => (hand.value = next)}
        />
        <PlungerFields
          value={plunger.value}
          isRead={false}
          onChange={(value) => (plunger.value = value)}
        />
      </div>
      <button type="submit" class="button primary">
        {say('Add the bow')}
      </button>
    </form>
  );
}
