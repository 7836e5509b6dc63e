import type { Language } from '../../src/words/words.ts';
import { LANGUAGE_CHOICES, languageChoice, say, type LanguageChoice } from '../state/words.ts';

/** Each by its own name, so that whoever is in the wrong one finds the way out. */
const NAMES: Readonly<Record<Language, string>> = {
  en: 'English',
  de: 'Deutsch',
  fr: 'Français',
};

/** Which language the page speaks. */
export function LanguageField() {
  return (
    <label class="field">
      <span class="field-name">{say('Language')}</span>
      <select
        value={languageChoice.value}
        onChange={({ currentTarget }) =>
          (languageChoice.value = currentTarget.value as LanguageChoice)
        }
      >
        {LANGUAGE_CHOICES.map((choice) => (
          <option key={choice} value={choice} lang={choice === 'device' ? undefined : choice}>
            {choice === 'device' ? say('Like the device') : NAMES[choice]}
          </option>
        ))}
      </select>
    </label>
  );
}
