import type { AdjusterScale } from './adjuster-scale.ts';
import type { Adjuster, Setting } from './set-up.ts';

/** The reading of a dial in clicks: whole lines times the positions per line, and the mark. */
function clicks(
  scale: AdjusterScale & { type: 'dial' },
  setting: Setting & { type: 'dial' },
): number {
  return setting.line * scale.positionsPerLine + setting.mark;
}

/**
 * A setting as one number that differences and slopes are taken of: clicks of a dial, the value of
 * a number, the place (from 0) in a list of choices. Null when the setting does not fit the scale.
 */
export function settingAmount({ scale }: Pick<Adjuster, 'scale'>, setting: Setting): number | null {
  if (scale.type === 'dial' && setting.type === 'dial') return clicks(scale, setting);
  if (scale.type === 'number' && setting.type === 'number') return setting.value;
  if (scale.type === 'choice' && setting.type === 'choice') {
    const place = scale.choices.indexOf(setting.choice);
    return place < 0 ? null : place;
  }
  return null;
}

/** The inverse: the nearest setting the adjuster can be put to, within its range. */
export function settingAt({ scale }: Pick<Adjuster, 'scale'>, amount: number): Setting {
  switch (scale.type) {
    case 'dial': {
      const last = (scale.lines ?? Infinity) * scale.positionsPerLine;
      const whole = Math.min(Math.max(0, Math.round(amount)), last);
      const line = Math.floor(whole / scale.positionsPerLine);
      return { type: 'dial', line, mark: whole - line * scale.positionsPerLine };
    }
    case 'choice': {
      const place = Math.min(Math.max(0, Math.round(amount)), scale.choices.length - 1);
      return { type: 'choice', choice: scale.choices[place]! };
    }
    case 'number': {
      const stepped = Math.round(amount / scale.step) * scale.step;
      const value = Math.min(Math.max(stepped, scale.min ?? -Infinity), scale.max ?? Infinity);
      return { type: 'number', value: Number(value.toFixed(6)) };
    }
  }
}

/** Smallest change an adjuster can make, in amounts. */
export function stepOf({ scale }: Pick<Adjuster, 'scale'>): number {
  return scale.type === 'number' ? scale.step : 1;
}
