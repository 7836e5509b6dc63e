import { ENGLISH, type Words } from '../../words/words.ts';
import { choiceName, unitName } from './adjuster-name.ts';
import { isReversed, partOf } from './parts.ts';
import type { Adjuster, Setting } from './set-up.ts';

/** A setting as a person reads it off: '3 lines, mark 5', '8.5 mm', 'medium'. */
export function settingWords(
  { part, scale }: Pick<Adjuster, 'part' | 'scale'>,
  setting: Setting | undefined,
  words: Words = ENGLISH,
): string {
  if (!setting) return words.say('not read');
  switch (setting.type) {
    case 'dial':
      return words.count(setting.line, '{n} line, mark {mark}', '{n} lines, mark {mark}', {
        mark: setting.mark,
      });
    case 'choice':
      return choiceName({ part }, setting.choice, words);
    case 'number':
      return withUnit(setting.value, scale.type === 'number' ? scale.unit : '', words);
  }
}

/** A change of an adjuster in the trade's words: '3 clicks softer', '0.5 mm higher'. */
export function changeWords(adjuster: Adjuster, change: number, words: Words = ENGLISH): string {
  return `${sizeWords(adjuster, Math.abs(change), words)} ${senseOf(adjuster, change, words)}`;
}

/** The size of a change with its unit: '3 clicks', '0.5 mm', '1 place'. */
export function sizeWords(
  { scale }: Pick<Adjuster, 'scale'>,
  size: number,
  words: Words = ENGLISH,
): string {
  const round = Number(size.toFixed(2));
  if (scale.type === 'dial') return words.count(round, '{n} click', '{n} clicks');
  if (scale.type === 'choice') return words.count(round, '{n} grade', '{n} grades');
  return withUnit(size, scale.unit, words);
}

/** Which way a change goes, in the trade's words: 'softer', 'higher', 'in'. */
export function senseOf(
  adjuster: Pick<Adjuster, 'part' | 'higherIs'>,
  change: number,
  { say }: Words = ENGLISH,
): string {
  const up = isReversed(adjuster) ? change < 0 : change > 0;
  return say(partOf(adjuster.part).directions[up ? 0 : 1]);
}

function withUnit(value: number, unit: string, words: Words): string {
  const { figure, unit: written } = words.inUnit(value, unit);
  return written ? `${figure} ${unitName(written, words)}` : figure;
}
