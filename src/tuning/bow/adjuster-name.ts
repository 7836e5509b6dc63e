import type { Words } from '../../words/words.ts';
import { PARTS } from './parts.ts';
import type { Adjuster } from './set-up.ts';

/** What an adjuster is called: the usual name of its part in the language, a name of a person's as it is. */
export function adjusterName(
  { part, name }: Pick<Adjuster, 'part' | 'name'>,
  { say }: Words,
): string {
  const { usual } = PARTS[part];
  return usual?.name === name ? say(usual.name) : name;
}

/** One of an adjuster's choices, likewise. */
export function choiceName(
  { part }: Pick<Adjuster, 'part'>,
  choice: string,
  { say }: Words,
): string {
  const named = PARTS['plunger-spring'].usual.scale.choices.find((one) => one === choice);
  return part === 'plunger-spring' && named ? say(`${named}#spring`) : choice;
}

/** A unit as it is written, likewise. */
export function unitName(unit: string, { say }: Words): string {
  return unit === 'turns' || unit === 'grain' ? say(unit) : unit;
}
