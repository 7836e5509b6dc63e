import { ENGLISH, type Words } from '../../words/words.ts';
import { adjusterName, choiceName, unitName } from './adjuster-name.ts';
import { partOf } from './parts.ts';
import type { Adjuster, Bow, Setting, SetUp } from './set-up.ts';
import { settingWords } from './setting-words.ts';

export interface SetUpProblem {
  readonly adjusterId: string;
  /** What is wrong and what to do. */
  readonly message: string;
}

/** What in a set-up cannot be, one sentence each; empty when it can be kept. */
export function checkSetUp(
  bow: Bow,
  setUp: Pick<SetUp, 'bowId' | 'settings'>,
  words: Words = ENGLISH,
): SetUpProblem[] {
  const problems: SetUpProblem[] = [];
  if (setUp.bowId !== bow.id) {
    problems.push({
      adjusterId: '',
      message: words.say('This set-up belongs to another bow than {bow}.', { bow: bow.name }),
    });
  }
  for (const [adjusterId, setting] of Object.entries(setUp.settings)) {
    const adjuster = bow.adjusters.find((one) => one.id === adjusterId);
    const message = adjuster
      ? problemOf(adjuster, setting, words)
      : words.say('{bow} has no adjuster "{adjuster}": add it to the bow first, or leave it out.', {
          bow: bow.name,
          adjuster: adjusterId,
        });
    if (message !== null) problems.push({ adjusterId, message });
  }
  return problems;
}

/** What in a bow's list of adjusters cannot be. */
export function checkBow(bow: Bow): SetUpProblem[] {
  const problems: SetUpProblem[] = [];
  const seen = new Set<string>();
  for (const { id, name, scale } of bow.adjusters) {
    if (seen.has(id)) {
      problems.push({
        adjusterId: id,
        message: ENGLISH.say('There are two adjusters "{adjuster}": rename one of them.', {
          adjuster: id,
        }),
      });
    }
    seen.add(id);
    if (scale.type === 'number' && (scale.min ?? -Infinity) >= (scale.max ?? Infinity)) {
      problems.push({
        adjusterId: id,
        message: ENGLISH.say('{name}: its least value {least} is not below its greatest {most}.', {
          name,
          least: scale.min!,
          most: scale.max!,
        }),
      });
    }
    if (scale.type === 'choice' && new Set(scale.choices).size < scale.choices.length) {
      problems.push({
        adjusterId: id,
        message: ENGLISH.say('{name}: two of its choices are the same.', { name }),
      });
    }
  }
  return problems;
}

function problemOf(adjuster: Adjuster, setting: Setting, words: Words): string | null {
  const { say } = words;
  const { scale } = adjuster;
  const name = adjusterName(adjuster, words);
  if (scale.type === 'dial') {
    if (setting.type !== 'dial') {
      return say("{name}: give the lines that show and the dial's mark.", { name });
    }
    const last = scale.positionsPerLine - 1;
    if (setting.mark < 0 || setting.mark > last) {
      return say(
        '{name}: the dial has {positions} positions per line, so its mark is 0 to {last}, not {mark}.',
        { name, positions: scale.positionsPerLine, last, mark: setting.mark },
      );
    }
    if (setting.line < 0) {
      return say('{name}: the lines are counted from 0, not {line}.', { name, line: setting.line });
    }
    if (scale.lines !== undefined && setting.line > scale.lines) {
      return say('{name}: it has {lines} lines, so line {line} cannot be.', {
        name,
        lines: scale.lines,
        line: setting.line,
      });
    }
    return null;
  }
  if (scale.type === 'choice') {
    if (setting.type === 'choice' && scale.choices.includes(setting.choice)) return null;
    const choices = scale.choices.map((choice) => choiceName(adjuster, choice, words)).join(', ');
    return say('{name}: choose one of {choices}.', { name, choices });
  }
  if (setting.type !== 'number') {
    return scale.unit
      ? say('{name}: give a number in {unit}.', {
          name,
          unit: unitName(words.inUnit(0, scale.unit).unit, words),
        })
      : say('{name}: give a number.', { name });
  }
  const read = settingWords(adjuster, setting, words);
  if (partOf(adjuster.part).aboveZero && setting.value <= 0) {
    return say('{name}: {read} cannot be, it is more than zero; check the sign and the unit.', {
      name,
      read,
    });
  }
  if (scale.min !== undefined && setting.value < scale.min) {
    return say(
      '{name}: {read} is below {least}, the least this adjuster allows; check the reading or change its range.',
      { name, read, least: words.inUnit(scale.min, scale.unit).figure },
    );
  }
  if (scale.max !== undefined && setting.value > scale.max) {
    return say(
      '{name}: {read} is above {most}, the most this adjuster allows; check the reading or change its range.',
      { name, read, most: words.inUnit(scale.max, scale.unit).figure },
    );
  }
  return null;
}
