import { expect, test } from 'vitest';
import { spokenIn } from '../../../src/words/spoken-in.ts';
import { ENGLISH, wordsOf } from '../../../src/words/words.ts';
import { adjusterName, choiceName, unitName } from '../../../src/tuning/bow/adjuster-name.ts';

const GERMAN = wordsOf(await spokenIn('de'));

test('the usual name of a part is said in the language, a name of a person’s as it was written', () => {
  const brace = { part: 'brace-height', name: 'Brace height' } as const;
  expect(adjusterName(brace, ENGLISH)).toBe('Brace height');
  expect(adjusterName(brace, GERMAN)).toBe('Standhöhe');
  expect(adjusterName({ ...brace, name: 'Brace, cold days' }, GERMAN)).toBe('Brace, cold days');
  // The usual name of another part is a person's here.
  expect(adjusterName({ part: 'own', name: 'Brace height' }, GERMAN)).toBe('Brace height');
});

test('so are choices of a spring, and no others', () => {
  expect(choiceName({ part: 'plunger-spring' }, 'stiff', ENGLISH)).toBe('stiff');
  expect(choiceName({ part: 'plunger-spring' }, 'stiff', GERMAN)).not.toBe('stiff');
  expect(choiceName({ part: 'plunger-spring' }, 'the blue one', GERMAN)).toBe('the blue one');
  expect(choiceName({ part: 'own' }, 'stiff', GERMAN)).toBe('stiff');
});

test('and units that are words', () => {
  expect(unitName('turns', GERMAN)).not.toBe('turns');
  expect(['mm', 'lb', ''].map((unit) => unitName(unit, GERMAN))).toEqual(['mm', 'lb', '']);
});
