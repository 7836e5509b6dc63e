import { InvalidArgumentError, Option, type Command } from 'commander';
import { spokenIn } from '../../../src/words/spoken-in.ts';
import { METRIC, type Units } from '../../../src/words/units.ts';
import { LANGUAGES, wordsOf, type Language, type Words } from '../../../src/words/words.ts';

export interface LanguageOptions {
  readonly language: Language;
  readonly units: Units;
}

const UNITS: Readonly<Record<string, Partial<Units>>> = {
  mm: { length: 'mm' },
  in: { length: 'in' },
  m: { distance: 'm' },
  yd: { distance: 'yd' },
  grain: { mass: 'grain' },
  g: { mass: 'g' },
};

/** @throws InvalidArgumentError */
function unitsIn(list: string): Units {
  return list.split(',').reduce<Units>((units, name) => {
    const said = UNITS[name.trim().toLowerCase()];
    if (said === undefined) {
      throw new InvalidArgumentError(`Name units of ${Object.keys(UNITS).join(', ')}, like in,yd.`);
    }
    return { ...units, ...said };
  }, METRIC);
}

/**
 * What is written into files for people to print or show can be in their language. The terminal stays
 * English, whatever LANG says: scripts read it.
 */
export function addLanguageOptions(command: Command): Command {
  return command
    .addOption(
      new Option('--language <code>', 'of the sheets and pictures that are written')
        .choices(LANGUAGES)
        .default('en' satisfies Language),
    )
    .addOption(
      new Option(
        '--units <list>',
        'of the sheets and pictures that are written: mm or in, m or yd, grain or g',
      )
        .argParser(unitsIn)
        .default(METRIC, 'mm,m,grain'),
    );
}

export async function wordsFor({ language, units }: LanguageOptions): Promise<Words> {
  return wordsOf({ ...(await spokenIn(language)), units });
}
