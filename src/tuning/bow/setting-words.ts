import { isReversed, partOf } from './parts.ts';
import type { Adjuster, Setting } from './set-up.ts';

/** A setting as a person reads it off: '3 lines, mark 5', '8.5 mm', 'medium'. */
export function settingWords(
  { scale }: Pick<Adjuster, 'scale'>,
  setting: Setting | undefined,
): string {
  if (!setting) return 'not read';
  switch (setting.type) {
    case 'dial':
      return `${setting.line} ${setting.line === 1 ? 'line' : 'lines'}, mark ${setting.mark}`;
    case 'choice':
      return setting.choice;
    case 'number':
      return withUnit(setting.value, scale.type === 'number' ? scale.unit : '');
  }
}

/** A change of an adjuster in the trade's words: '3 clicks softer', '0.5 mm higher'. */
export function changeWords(adjuster: Adjuster, change: number): string {
  return `${sizeWords(adjuster, Math.abs(change))} ${senseOf(adjuster, change)}`;
}

/** The size of a change with its unit: '3 clicks', '0.5 mm', '1 place'. */
export function sizeWords({ scale }: Pick<Adjuster, 'scale'>, size: number): string {
  if (scale.type === 'dial') return `${trim(size)} ${size === 1 ? 'click' : 'clicks'}`;
  if (scale.type === 'choice') return `${trim(size)} ${size === 1 ? 'grade' : 'grades'}`;
  return withUnit(size, scale.unit);
}

/** Which way a change goes, in the trade's words: 'softer', 'higher', 'in'. */
export function senseOf(adjuster: Pick<Adjuster, 'part' | 'higherIs'>, change: number): string {
  const up = isReversed(adjuster) ? change < 0 : change > 0;
  return partOf(adjuster.part).directions[up ? 0 : 1];
}

function withUnit(value: number, unit: string): string {
  return unit ? `${trim(value)} ${unit}` : trim(value);
}

function trim(value: number): string {
  return String(Number(value.toFixed(2)));
}
