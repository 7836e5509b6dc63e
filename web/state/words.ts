import { announce } from './announce.ts';
import { computed, signal, type ReadonlySignal } from '@preact/signals';
import { z } from 'zod';
import { spokenIn } from '../../src/words/spoken-in.ts';
import { METRIC, type Units } from '../../src/words/units.ts';
import {
  LANGUAGES,
  wordsOf,
  type Language,
  type SpokenLanguage,
  type Words,
} from '../../src/words/words.ts';
import { remembered } from './remembered.ts';

export const LANGUAGE_CHOICES = ['device', ...LANGUAGES] as const;
export type LanguageChoice = (typeof LANGUAGE_CHOICES)[number];

/** The language a person chose; until then the page speaks what the browser asks for. */
export const languageChoice = remembered<LanguageChoice>(
  'language',
  z.enum(LANGUAGE_CHOICES),
  'device',
);

/** What measures are written in; asked for once. */
export const units = remembered<Units>(
  'units',
  z.object({
    length: z.enum(['mm', 'in']),
    distance: z.enum(['m', 'yd']),
    mass: z.enum(['grain', 'g']),
  }),
  METRIC,
);

const spoken = signal<SpokenLanguage>({
  language: 'en',
  catalogue: null,
  locale: localeOf('en'),
});

/** What the page speaks. */
export const words: ReadonlySignal<Words> = computed(() =>
  wordsOf({ ...spoken.value, units: units.value }),
);

export const say: Words['say'] = (text, ...values) => words.value.say(text, ...values);

export const count: Words['count'] = (n, one, many, ...values) =>
  words.value.count(n, one, many, ...values);

/**
 * Speaks the language that is chosen from now on, once its texts are here. Without network they may not
 * be: then the page goes on in the language it has.
 * @throws where they cannot be fetched
 */
export async function speak(): Promise<void> {
  const choice = languageChoice.value;
  const language = choice === 'device' ? languageOfDevice() : choice;
  // Only the language that is spoken is fetched.
  const next = { ...(await spokenIn(language)), locale: localeOf(language) };
  if (languageChoice.value !== choice) return;
  spoken.value = next;
  document.documentElement.lang = language;
}

/** Speaks what is chosen from now on; where its texts cannot be fetched, says so. */
export function followLanguage(): void {
  let first = true;
  languageChoice.subscribe(() => {
    if (!first) {
      void speak().catch(() =>
        announce(say('This language could not be fetched: connect once and choose it again.')),
      );
    }
    first = false;
  });
}

/** The first language that the browser asks for and the page speaks. */
function languageOfDevice(): Language {
  const asked = navigator.languages.map((one) => one.slice(0, 2).toLowerCase());
  return LANGUAGES.find((language) => language === asked.find(isSpoken)) ?? 'en';
}

function isSpoken(language: string): boolean {
  return LANGUAGES.some((one) => one === language);
}

/** With the region that the browser asks for: days are written otherwise in Zürich than in Kiel. */
function localeOf(language: Language): string | undefined {
  return navigator.languages.find(
    (one) => one.slice(0, 2).toLowerCase() === language && isLocale(one),
  );
}

/** A browser may pass on what its system calls a language, such as `en-US@posix`. */
function isLocale(name: string): boolean {
  try {
    return Intl.getCanonicalLocales(name).length > 0;
  } catch {
    return false;
  }
}
