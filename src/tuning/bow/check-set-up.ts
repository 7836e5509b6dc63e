import { partOf } from './parts.ts';
import type { Adjuster, Bow, Setting, SetUp } from './set-up.ts';
import { settingWords } from './setting-words.ts';

export interface SetUpProblem {
  readonly adjusterId: string;
  /** What is wrong and what to do. */
  readonly message: string;
}

/** What in a set-up cannot be, one sentence each; empty when it can be kept. */
export function checkSetUp(bow: Bow, setUp: Pick<SetUp, 'bowId' | 'settings'>): SetUpProblem[] {
  const problems: SetUpProblem[] = [];
  if (setUp.bowId !== bow.id) {
    problems.push({
      adjusterId: '',
      message: `This set-up belongs to another bow than ${bow.name}.`,
    });
  }
  for (const [adjusterId, setting] of Object.entries(setUp.settings)) {
    const adjuster = bow.adjusters.find((one) => one.id === adjusterId);
    const message = adjuster
      ? problemOf(adjuster, setting)
      : `${bow.name} has no adjuster "${adjusterId}": add it to the bow first, or leave it out.`;
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
        message: `There are two adjusters "${id}": rename one of them.`,
      });
    }
    seen.add(id);
    if (scale.type === 'number' && (scale.min ?? -Infinity) >= (scale.max ?? Infinity)) {
      problems.push({
        adjusterId: id,
        message: `${name}: its least value ${scale.min} is not below its greatest ${scale.max}.`,
      });
    }
    if (scale.type === 'choice' && new Set(scale.choices).size < scale.choices.length) {
      problems.push({ adjusterId: id, message: `${name}: two of its choices are the same.` });
    }
  }
  return problems;
}

function problemOf(adjuster: Adjuster, setting: Setting): string | null {
  const { scale, name } = adjuster;
  if (scale.type === 'dial') {
    if (setting.type !== 'dial') return `${name}: give the lines that show and the dial's mark.`;
    const last = scale.positionsPerLine - 1;
    if (setting.mark < 0 || setting.mark > last) {
      return `${name}: the dial has ${scale.positionsPerLine} positions per line, so its mark is 0 to ${last}, not ${setting.mark}.`;
    }
    if (setting.line < 0) return `${name}: the lines are counted from 0, not ${setting.line}.`;
    if (scale.lines !== undefined && setting.line > scale.lines) {
      return `${name}: it has ${scale.lines} lines, so line ${setting.line} cannot be.`;
    }
    return null;
  }
  if (scale.type === 'choice') {
    if (setting.type === 'choice' && scale.choices.includes(setting.choice)) return null;
    return `${name}: choose one of ${scale.choices.join(', ')}.`;
  }
  if (setting.type !== 'number')
    return `${name}: give a number${scale.unit ? ` in ${scale.unit}` : ''}.`;
  const read = settingWords(adjuster, setting);
  if (partOf(adjuster.part).aboveZero && setting.value <= 0) {
    return `${name}: ${read} cannot be, it is more than zero; check the sign and the unit.`;
  }
  if (scale.min !== undefined && setting.value < scale.min) {
    return `${name}: ${read} is below ${scale.min}, the least this adjuster allows; check the reading or change its range.`;
  }
  if (scale.max !== undefined && setting.value > scale.max) {
    return `${name}: ${read} is above ${scale.max}, the most this adjuster allows; check the reading or change its range.`;
  }
  return null;
}
