import { unsaidOfPlunger, type PlungerScale } from '../../src/tuning/bow/plunger-scale.ts';
import { Choice } from '../parts/choice.tsx';
import { Stepper } from '../parts/stepper.tsx';
import { say, words } from '../state/words.ts';

interface Props {
  readonly value: PlungerScale;
  /** Readings were written down by lines and marks already, or by turns: that stays. */
  readonly isRead: boolean;
  readonly onChange: (value: PlungerScale) => void;
}

/** How the plunger counts: makers differ, and a wrong guess turns every piece of advice around. */
export function PlungerFields({ value, isRead, onChange }: Props) {
  const set = (change: Partial<PlungerScale>) => onChange({ ...value, ...change });
  const unsaid = unsaidOfPlunger(value, words.value);
  return (
    <>
      {!isRead && (
        <Choice<'dial' | 'turns'>
          label={say('The plunger is read by')}
          value={value.readBy}
          options={[
            { value: 'dial', label: say('lines and a dial') },
            { value: 'turns', label: say('turns') },
          ]}
          onChange={(readBy) => set({ readBy })}
        />
      )}
      {value.readBy !== 'turns' && (
        <Stepper
          label={say('Marks of its dial in a whole turn')}
          value={value.marksATurn}
          min={2}
          max={100}
          start={10}
          onChange={(marksATurn) => set({ marksATurn })}
        />
      )}
      <Choice<'stiffer' | 'softer'>
        label={say('At a higher number the plunger is')}
        value={value.higherIs}
        options={[
          { value: 'stiffer', label: say('stiffer#part') },
          { value: 'softer', label: say('softer#part') },
        ]}
        onChange={(higherIs) => set({ higherIs })}
      />
      {unsaid !== null && <p class="field-note">{unsaid}</p>}
    </>
  );
}
