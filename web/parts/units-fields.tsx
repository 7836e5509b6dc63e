import type { PlainText } from '../../src/words/words.ts';
import type { Units } from '../../src/words/units.ts';
import { say, units } from '../state/words.ts';

const FIELDS = [
  {
    quantity: 'length',
    title: 'Lengths on the face and the bow',
    choices: { mm: 'millimetres', in: 'inches' },
  },
  { quantity: 'distance', title: 'Shooting distances', choices: { m: 'metres', yd: 'yards' } },
  { quantity: 'mass', title: 'Masses of points', choices: { grain: 'grains', g: 'grams' } },
] as const satisfies readonly {
  readonly [Quantity in keyof Units]: {
    readonly quantity: Quantity;
    readonly title: PlainText;
    readonly choices: Readonly<Record<Units[Quantity], PlainText>>;
  };
}[keyof Units][];

/** What measures are written in, wherever one is. */
export function UnitsFields() {
  return (
    <>
      {FIELDS.map(({ quantity, title, choices }) => (
        <label key={quantity} class="field">
          <span class="field-name">{say(title)}</span>
          <select
            value={units.value[quantity]}
            onChange={({ currentTarget: { value } }) =>
              (units.value = { ...units.value, [quantity]: value })
            }
          >
            {(Object.entries(choices) as [string, PlainText][]).map(([unit, name]) => (
              <option key={unit} value={unit}>
                {say(name)}
              </option>
            ))}
          </select>
        </label>
      ))}
    </>
  );
}
