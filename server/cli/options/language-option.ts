import { Option, type Command } from 'commander';
import {
  ENGLISH,
  LANGUAGES,
  wordsOf,
  type Language,
  type Words,
} from '../../../src/words/words.ts';

export interface LanguageOptions {
  readonly language: Language;
}

/**
 * What is written into files for people to print or show can be in their language. The terminal stays
 * English, whatever LANG says: scripts read it.
 */
export function addLanguageOption(command: Command): Command {
  return command.addOption(
    new Option('--language <code>', 'of the sheets and pictures that are written')
      .choices(LANGUAGES)
      .default('en' satisfies Language),
  );
}

export async function wordsFor({ language }: LanguageOptions): Promise<Words> {
  if (language === 'en') return ENGLISH;
  if (language === 'de') {
    const { GERMAN, GERMAN_HANDED_OUT } = await import('../../../src/words/german.ts');
    return wordsOf({ language, catalogue: GERMAN, handedOut: Object.keys(GERMAN_HANDED_OUT) });
  }
  const { FRENCH, FRENCH_HANDED_OUT } = await import('../../../src/words/french.ts');
  return wordsOf({ language, catalogue: FRENCH, handedOut: Object.keys(FRENCH_HANDED_OUT) });
}
