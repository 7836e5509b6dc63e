import type { Language, SpokenLanguage } from './words.ts';

/** A language with its texts, which are loaded when they are asked for. */
export async function spokenIn(language: Language): Promise<SpokenLanguage> {
  switch (language) {
    case 'en':
      return { language, catalogue: null };
    case 'de': {
      const { GERMAN, GERMAN_HANDED_OUT } = await import('./german.ts');
      return { language, catalogue: GERMAN, handedOut: Object.keys(GERMAN_HANDED_OUT) };
    }
    case 'fr': {
      const { FRENCH, FRENCH_HANDED_OUT } = await import('./french.ts');
      return { language, catalogue: FRENCH, handedOut: Object.keys(FRENCH_HANDED_OUT) };
    }
  }
}
