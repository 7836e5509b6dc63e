import { METRIC, writtenAs, type Units } from './units.ts';
import type { Catalogue, Entry } from './entry.ts';
import type { GERMAN } from './german.ts';

export const LANGUAGES = ['en', 'de', 'fr'] as const;
export type Language = (typeof LANGUAGES)[number];

type Known = typeof GERMAN;

/** A text by its English words; what follows a '#' tells two of the same words apart and is not said. */
export type Text = { [K in keyof Known]: Known[K] extends string ? K : never }[keyof Known];

/** A text that a number stands in, by its English plural. */
export type CountedText = Exclude<keyof Known, Text>;

/** The names in braces. */
type Gap<T extends string> = T extends `${string}{${infer Name}}${infer Rest}`
  ? Name | Gap<Rest>
  : never;

/** A text without gaps, as tables of texts hold them. */
export type PlainText = { [T in Text]: [Gap<T>] extends [never] ? T : never }[Text];

type Values<Name extends string> = [Name] extends [never]
  ? []
  : [values: Readonly<Record<Name, string | number>>];

/** All texts of a language. */
export type FullCatalogue = Readonly<Record<keyof Known, Entry>>;

export type DateStyle = 'short' | 'medium' | 'long' | 'full';

/**
 * How things are said in one language. Every text stands where it is needed, in English; what it is in
 * another language is in that language's catalogue, and a text that one of them lacks does not compile.
 */
export interface Words {
  readonly language: Language;
  /** @param values by the names of the text's gaps; numbers are written as the language does */
  readonly say: <T extends Text>(text: T, ...values: Values<Gap<T>>) => string;
  /** A text with a number in it, which its gap `n` shows. @param one in English, of exactly one */
  readonly count: <T extends CountedText>(
    n: number,
    one: string,
    many: T,
    ...values: Values<Exclude<Gap<T>, 'n'>>
  ) => string;
  /** What was said in English by a reader or a server, said in this language; as it is where unknown. */
  readonly again: (english: string) => string;
  /** @param digits after the point, always so many; left out, as many as it has */
  readonly number: (value: number, digits?: number) => string;
  /** @param percent a whole number */
  readonly percent: (percent: number) => string;
  readonly day: (at: string | number, style?: DateStyle) => string;
  readonly dayAndTime: (at: string | number) => string;
  /** A day (ISO) as sheets and sentences give it, in English as ISO 8601 has it. */
  readonly sheetDay: (iso: string) => string;
  /** Day and month of a time in UTC, as short as they are written: '3 Nov'. */
  readonly dayOfYear: (at: number) => string;
  /** 'a, b and c'. */
  readonly list: (items: readonly string[]) => string;
  /** A length on the face with its unit, from millimetres. @param digits of the millimetres @default 0 */
  readonly mm: (mm: number, digits?: number) => string;
  /** A shooting distance with its unit, from metres. */
  readonly metres: (m: number) => string;
  readonly units: Units;
  /** The figures of `mm` and of `metres` alone, for where the unit is said apart. */
  readonly inLength: (mm: number, digits?: number) => string;
  readonly inDistance: (m: number) => string;
  /** The figure of a slope or an angle, from mrad (mm per metre), in `slopeUnit`. @default 1 digit of mm per metre */
  readonly inSlope: (mrad: number, digits?: number) => string;
  readonly slopeUnit: string;
  /** A reading or its change as it is written: its figure, and its unit's name in `Units`. */
  readonly inUnit: (
    value: number,
    unit: string,
  ) => { readonly figure: string; readonly unit: string };
}

export interface SpokenLanguage {
  readonly language: Language;
  /** Null for English: there the texts are what they say. */
  readonly catalogue: FullCatalogue | null;
  /** Texts that are handed out in English and said again. */
  readonly handedOut?: readonly string[];
  /** For numbers and dates, with the region where it is known. @default the language's */
  readonly locale?: string | undefined;
  /** @default METRIC */
  readonly units?: Units | undefined;
}

/** Spaces of a translated text where no line may end: before marks of two parts, and a figure's unit. */
const UNBROKEN = / (?=[:;?!»%])|(?<=«) |(?<=\d) (?=(?:mm|cm|m|mrad)(?!\p{L}))/gu;

/** Numbers inside a text and in tables are not grouped by thousands. */
const UNGROUPED = { useGrouping: false, maximumFractionDigits: 6 } as const;

export function wordsOf(spoken: SpokenLanguage): Words {
  const { language, catalogue, handedOut = [], units = METRIC } = spoken;
  const locale = spoken.locale ?? language;
  const plural = new Intl.PluralRules(language);
  const plain = new Intl.NumberFormat(locale, UNGROUPED);
  const dayOfYear = new Intl.DateTimeFormat(language === 'en' ? 'en-GB' : locale, {
    day: 'numeric',
    month: 'short',
    timeZone: 'UTC',
  });
  const list = new Intl.ListFormat(language === 'en' ? 'en-GB' : locale, { type: 'conjunction' });

  const number = (value: number, digits?: number): string => {
    // Rounded as the figure is, not as a language's formatter rounds it: all say the same number.
    const written = digits === undefined ? String(value) : value.toFixed(digits);
    if (language === 'en') return written;
    if (digits === undefined) return plain.format(value);
    const fixed = { minimumFractionDigits: digits, maximumFractionDigits: digits };
    return new Intl.NumberFormat(locale, { ...UNGROUPED, ...fixed }).format(Number(written));
  };
  const inLength = (mm: number, digits = 0): string =>
    units.length === 'mm'
      ? number(mm, digits)
      : number(mm * writtenAs('mm', units).per, digits + 1);
  const inDistance = (m: number): string =>
    units.distance === 'm' ? number(m) : number(Number((m * writtenAs('m', units).per).toFixed(1)));
  const withUnit = (written: string, unit: string) =>
    `${written}${language === 'en' ? ' ' : '\u00a0'}${unit}`;
  const filled = (text: string, values: Readonly<Record<string, string | number>> = {}): string => {
    const whole = text.replace(/\{(\w+)\}/g, (gap, name: string) => {
      const value = values[name];
      if (value === undefined) return gap;
      return typeof value === 'number' ? number(value) : value;
    });
    return language === 'en' ? whole : whole.replace(UNBROKEN, '\u00a0');
  };
  const known: Catalogue | null = catalogue;
  const entryOf = (text: string): Entry => known?.[text] ?? text.replace(/#.*$/, '');
  const plainOf = (text: string): string => {
    const entry = entryOf(text);
    return typeof entry === 'string' ? entry : entry.other;
  };
  // The more of a text is its own, the less it can be mistaken for another.
  const patterns =
    catalogue === null ? [] : handedOut.map(patternOf).sort((a, b) => b.letters - a.letters);
  const again = (english: string): string => {
    if (known === null) return english;
    if (known[english] !== undefined) return filled(plainOf(english));
    for (const { text, pattern, names } of patterns) {
      const found = pattern.exec(english);
      if (!found) continue;
      const values = names.map((name, i) => [name, valueAgain(found[i + 1]!)]);
      return filled(plainOf(text), Object.fromEntries(values) as Record<string, string>);
    }
    return english;
  };
  const valueAgain = (value: string): string =>
    /^-?\d+(\.\d+)?$/.test(value)
      ? number(Number(value), value.split('.')[1]?.length ?? 0)
      : again(value);

  return {
    language,
    say: (text, ...[values]) => filled(plainOf(text), values),
    count: (n, one, many, ...[values]) => {
      const entry = known?.[many] ?? { one, other: many };
      const form = typeof entry === 'string' ? entry : (entry[plural.select(n)] ?? entry.other);
      return filled(form.replace(/#.*$/, ''), { ...values, n });
    },
    again,
    number,
    percent: (percent) =>
      language === 'en'
        ? `${percent} %`
        : new Intl.NumberFormat(locale, { style: 'percent' }).format(percent / 100),
    day: (at, dateStyle = 'medium') =>
      new Intl.DateTimeFormat(locale, { dateStyle }).format(new Date(at)),
    dayAndTime: (at) =>
      new Intl.DateTimeFormat(locale, { dateStyle: 'medium', timeStyle: 'short' }).format(
        new Date(at),
      ),
    sheetDay: (iso) => {
      const day = iso.slice(0, 10);
      if (language === 'en') return day;
      const whole = { dateStyle: 'medium', timeZone: 'UTC' } as const;
      return new Intl.DateTimeFormat(locale, whole).format(new Date(day));
    },
    dayOfYear: (at) => dayOfYear.format(at),
    list: (items) => list.format(items),
    mm: (mm, digits) => withUnit(inLength(mm, digits), units.length),
    metres: (m) => withUnit(inDistance(m), units.distance),
    units,
    inLength,
    inDistance,
    // Of an inch per yard a thousandth is what a thirty-sixth of a milliradian is.
    inSlope: (mrad, digits = 1) =>
      units.length === 'mm'
        ? number(mrad / writtenAs('m', units).per, digits)
        : number((mrad * writtenAs('mm', units).per) / writtenAs('m', units).per, digits + 2),
    slopeUnit: plainOf(SLOPE_UNITS[units.length][units.distance]),
    inUnit: (value, unit) => {
      const as = writtenAs(unit, units);
      // Of an inch a thousandth is what a fortieth of a millimetre is.
      const digits = as.unit === 'in' ? 3 : 2;
      return { figure: number(Number((value * as.per).toFixed(digits))), unit: as.unit };
    },
  };
}

const SLOPE_UNITS = {
  mm: { m: 'mm per metre', yd: 'mm per yard' },
  in: { m: 'in per metre', yd: 'in per yard' },
} as const satisfies Record<Units['length'], Record<Units['distance'], PlainText>>;

/** A text with gaps as a pattern of what it may have become. */
function patternOf(text: string) {
  const names = [...text.matchAll(/\{(\w+)\}/g)].map(([, name]) => name!);
  const literal = text
    .replace(/#.*$/, '')
    .split(/\{\w+\}/)
    .map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
  return {
    text,
    names,
    letters: literal.join('').length,
    pattern: new RegExp(`^${literal.join('(.+?)')}$`),
  };
}

/** What everything is said in unless another language is asked for. */
export const ENGLISH: Words = wordsOf({ language: 'en', catalogue: null });
