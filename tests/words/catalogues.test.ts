import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import type { Catalogue, Entry } from '../../src/words/entry.ts';
import { FRENCH, FRENCH_HANDED_OUT } from '../../src/words/french.ts';
import { GERMAN, GERMAN_HANDED_OUT } from '../../src/words/german.ts';
import { ENGLISH, wordsOf } from '../../src/words/words.ts';
import { calledName, sourceFiles, stringIn, visitSource } from './source-texts.ts';

const LANGUAGES = [
  {
    language: 'de',
    catalogue: GERMAN as Catalogue,
    words: wordsOf({
      language: 'de',
      catalogue: GERMAN,
      handedOut: Object.keys(GERMAN_HANDED_OUT),
    }),
  },
  {
    language: 'fr',
    catalogue: FRENCH as Catalogue,
    words: wordsOf({
      language: 'fr',
      catalogue: FRENCH,
      handedOut: Object.keys(FRENCH_HANDED_OUT),
    }),
  },
] as const;

/** What is the same in English and another language; whatever else is the same was forgotten. */
const SAME: Readonly<Record<'de' | 'fr', readonly string[]>> = {
  de: [
    'Name',
    'Trends',
    'Trends#nav',
    'Wind',
    'grain',
    '{side}#degree',
    '{what}: {how}',
    '{what}: {how}.',
    '{where}: {up}, {across}{from}.',
  ],
  fr: [
    'Archer',
    'Corrections',
    'Distance',
    'Distance#column',
    'Note',
    'Pages',
    'Photo',
    'Photos',
    'Points',
    'Second',
    'Verdict',
    'Zoom',
    'grains',
    'milliradian',
    'tiller',
    'yards',
    'archer',
    'photo',
    '{archer}, {day}, {points} points',
    '{n} photos',
    '{side}#degree',
  ],
};

const SOURCES = ['src', 'web', 'server']
  .flatMap(sourceFiles)
  .filter((path) => !/^src\/words\/(german|french)/.test(path));

const formsOf = (entry: Entry): readonly string[] =>
  typeof entry === 'string' ? [entry] : Object.values(entry as Readonly<Record<string, string>>);
const gapsOf = (text: string): string[] =>
  [...new Set([...text.matchAll(/\{(\w+)\}/g)].map(([, name]) => name!))].sort();
const saidInEnglish = (text: string): string => text.replace(/#.*$/, '');

describe.each(LANGUAGES)('the catalogue of $language', ({ language, catalogue, words }) => {
  it('has the texts that German has', () => {
    expect(Object.keys(catalogue).sort()).toEqual(Object.keys(GERMAN).sort());
  });

  it('has the gaps of the English text in every form', () => {
    const wrong = Object.entries(catalogue).filter(([text, entry]) => {
      // Of one, the number may be left out.
      const wanted = gapsOf(text).filter((name) => typeof entry === 'string' || name !== 'n');
      const found = (form: string) =>
        gapsOf(form).filter((name) => typeof entry === 'string' || name !== 'n');
      return formsOf(entry).some((form) => found(form).join() !== wanted.join());
    });
    expect(wrong).toEqual([]);
  });

  it('marks the same parts as the English text', () => {
    const marked = (text: string) => text.split('<b>').length + text.split('</b>').length;
    const wrong = Object.entries(catalogue).filter(([text, entry]) =>
      formsOf(entry).some((form) => marked(form) !== marked(text)),
    );
    expect(wrong).toEqual([]);
  });

  it('leaves nothing in English but what is the same there', () => {
    const same = Object.entries(catalogue)
      .filter(([text, entry]) => formsOf(entry).includes(saidInEnglish(text)))
      .map(([text]) => text);
    expect(same.sort()).toEqual([...SAME[language]].sort());
  });

  it('has no empty text, no double space and none at an end', () => {
    const wrong = Object.values(catalogue)
      .flatMap(formsOf)
      .filter((form) => form === '' || form !== form.trim() || form.includes('  '));
    expect(wrong).toEqual([]);
  });

  const broken = (text: string) => text.replaceAll('\u00a0', ' ');

  it('says again in its language whatever was handed out in English', () => {
    const wrong = Object.keys(GERMAN_HANDED_OUT).flatMap((text) => {
      const values = Object.fromEntries(gapsOf(text).map((name, i) => [name, 12.5 + i]));
      const english = filled(text, values, (value) => String(value));
      const said = words.again(english);
      const wanted = filled(formsOf(catalogue[text]!)[0]!, values, (value) => words.number(value));
      return broken(said) === broken(wanted) ? [] : [{ english, said, wanted }];
    });
    expect(wrong).toEqual([]);
  });
});

function filled(
  text: string,
  values: Readonly<Record<string, number>>,
  write: (value: number) => string,
): string {
  return saidInEnglish(text).replace(/\{(\w+)\}/g, (_, name: string) => write(values[name]!));
}

describe('the catalogues', () => {
  it('hold nothing that is not said', () => {
    const said = new Set<string>();
    const templates: RegExp[] = [];
    for (const path of SOURCES) {
      visitSource(path, (node) => {
        const text = stringIn(node);
        if (text === null) return;
        if (ts.isStringLiteralLike(node)) said.add(text);
        else if (/\{\}(#|-handed|cm| cm)|^a higher number is/.test(text)) {
          const parts = text.split('{}').map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
          templates.push(new RegExp(`^${parts.join('[\\w ]+')}$`));
        }
      });
    }
    const unsaid = Object.keys(GERMAN).filter(
      (text) => !said.has(text) && !templates.some((template) => template.test(text)),
    );
    expect(unsaid).toEqual([]);
  });
});

describe('the page and the core', () => {
  /** Attributes that people see or hear. */
  const SHOWN = new Set(['aria-label', 'label', 'placeholder', 'title', 'alt']);

  it('write no text into the page but by a catalogue', () => {
    const found: string[] = [];
    for (const path of sourceFiles('web').filter((name) => name.endsWith('.tsx'))) {
      visitSource(path, (node) => {
        if (ts.isJsxText(node) && /\p{L}{2}/u.test(node.text) && !NAMES.has(node.text.trim())) {
          found.push(`${path}: ${node.text.trim()}`);
        }
        if (!ts.isJsxAttribute(node) || !SHOWN.has(node.name.getText())) return;
        if (
          node.initializer &&
          ts.isStringLiteral(node.initializer) &&
          /\p{L}{2}/u.test(node.initializer.text)
        ) {
          found.push(`${path}: ${node.initializer.text}`);
        }
      });
    }
    expect(found).toEqual([]);
  });

  it('draw no text but by a catalogue', () => {
    const found: string[] = [];
    for (const path of sourceFiles('src/drawing')) {
      visitSource(path, (node) => {
        if (!ts.isCallExpression(node) || node.expression.getText() !== 'svgText') return;
        const drawn = node.arguments[1];
        const text = drawn && stringIn(drawn);
        if (text && /\p{L}{2}/u.test(text)) found.push(`${path}: ${text}`);
      });
    }
    expect(found).toEqual([]);
  });

  /** What they say, people who run a log read in a terminal. */
  const TERMINAL = new Set(['src/tuning/record/made-up-distance.ts']);

  it('make no sentence but by a catalogue', () => {
    const found: string[] = [];
    const folders = ['web', 'src/reading', 'src/tuning', 'src/trends', 'src/drawing', 'src/evening', 'src/fit', 'src/marks', 'src/two-views']; // prettier-ignore
    for (const path of folders.flatMap(sourceFiles).filter((one) => !TERMINAL.has(one))) {
      visitSource(path, (node) => {
        const text = stringIn(node);
        if (
          text === null ||
          text in GERMAN ||
          NAMES.has(text) ||
          !isSentence(text) ||
          isForProgrammers(node)
        )
          return;
        found.push(`${path}: ${text}`);
      });
    }
    expect(found).toEqual([]);
  });
});

/** Names and a unit that are the same everywhere. */
const NAMES = new Set(['endwise', 'mrad', 'Heathside ground']);

/** Several words, begun with a capital letter or ended like a sentence. */
function isSentence(text: string): boolean {
  if (/^\{\} (mm|mrad)$/.test(text)) return false;
  return (
    /^[“"]?(\{\}|\p{Lu})[^=;{}<>]* \p{Ll}+/u.test(text) || /\p{Ll}+ \p{Ll}+.*[.:?!]$/u.test(text)
  );
}

/** Names of errors that no person sees, and what zod says at an edge. */
function isForProgrammers(node: ts.Node): boolean {
  const { parent } = node;
  // The English text of exactly one is no text of the catalogues.
  if (ts.isCallExpression(parent) && calledName(parent) === 'count') return true;
  for (let at = node.parent; !ts.isSourceFile(at); at = at.parent) {
    if (ts.isNewExpression(at) && at.expression.getText() === 'Error') return true;
    if (ts.isImportDeclaration(at)) return true;
    if (ts.isCallExpression(at) && ['min', 'max', 'positive', 'refine'].includes(calledName(at))) {
      return true;
    }
  }
  return false;
}

describe('words', () => {
  const [german, french] = LANGUAGES.map(({ words }) => words) as [typeof ENGLISH, typeof ENGLISH];

  it('write numbers as the language does, and the same number in all', () => {
    expect([ENGLISH, german, french].map(({ number }) => number(1.005, 2))).toEqual(['1.00', '1,00', '1,00']); // prettier-ignore
    expect([ENGLISH, german, french].map(({ number }) => number(1234.5))).toEqual(['1234.5', '1234,5', '1234,5']); // prettier-ignore
    expect(german.number(-0.5, 1)).toBe('-0,5');
    expect(ENGLISH.percent(90)).toBe('90 %');
    // Which space that does not break stands there is the language's affair.
    expect(german.percent(90)).toMatch(/^90\s%$/);
    expect(french.percent(90)).toMatch(/^90\s%$/);

    expect(german.mm(8.1, 1)).toBe('8,1\u00a0mm');
    expect(german.say('at {distance}', { distance: german.metres(18.3) })).toBe('auf 18,3\u00a0m');
    // No line begins with a mark of two parts, none ends before a unit.
    expect(french.say('A used face? Add a photo from before')).toMatch(/^Blason usagé\u00a0\? /);
    expect(german.again('80 cm, ten zones')).toBe('80\u00a0cm, zehn Zonen');
  });

  it('write days as the language does', () => {
    const day = '2026-05-02T12:00:00Z';
    expect(ENGLISH.day(day, 'long')).toBe('May 2, 2026');
    expect(german.day(day, 'long')).toBe('2. Mai 2026');
    expect(french.day(day, 'long')).toBe('2 mai 2026');
    expect(wordsOf({ language: 'en', catalogue: null, locale: 'en-GB' }).day(day)).toBe(
      '2 May 2026',
    );
    expect([ENGLISH, german, french].map(({ dayOfYear }) => dayOfYear(Date.parse(day)))).toEqual(['2 May', '2. Mai', '2 mai']); // prettier-ignore
  });

  it('count as the language does: French has one for none', () => {
    const ends = ({ count }: typeof ENGLISH, n: number) => count(n, '{n} end', '{n} ends');
    expect([0, 1, 2].map((n) => ends(ENGLISH, n))).toEqual(['0 ends', '1 end', '2 ends']);
    expect([0, 1, 2].map((n) => ends(german, n))).toEqual(['0 Passen', '1 Passe', '2 Passen']);
    expect([0, 1, 2].map((n) => ends(french, n))).toEqual(['0 volée', '1 volée', '2 volées']);
  });

  it('join as the language does', () => {
    expect(ENGLISH.list(['a', 'b', 'c'])).toBe('a, b and c');
    expect(german.list(['a', 'b', 'c'])).toBe('a, b und c');
    expect(french.list(['a', 'b', 'c'])).toBe('a, b et c');
  });

  it('leave what only tells two texts apart unsaid', () => {
    expect(ENGLISH.say('New#end')).toBe('New');
    expect(german.say('weak#arrow')).toBe('zu weich');
  });

  it('say again what stands in what was handed out, and leave the unknown as it is', () => {
    const why = ENGLISH.say('The face is too small in the photo: go closer.');
    const second = ENGLISH.say('The second photo: {why}', { why });
    expect(german.again(second)).toBe(
      'Das zweite Foto: Die Auflage ist im Foto zu klein: Geh näher heran.',
    );
    const shown = ENGLISH.say(
      'Read as the {face} face, the size last given for faces of this look.',
      {
        face: '40 cm, ten zones',
      },
    );
    expect(german.again(shown)).toContain('40\u00a0cm, zehn Zonen');
    expect(german.again('Nobody ever said this, or: that.')).toBe(
      'Nobody ever said this, or: that.',
    );
    expect(ENGLISH.again(second)).toBe(second);
  });
});
