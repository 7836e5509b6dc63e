import { unitName } from '../../src/tuning/bow/adjuster-name.ts';
import { writtenAs } from '../../src/words/units.ts';
import { words } from '../state/words.ts';
import { Stepper } from './stepper.tsx';

interface Props {
  readonly label: string;
  /** What `value`, the limits and the step are in, whatever they are shown in. */
  readonly unit: string;
  readonly value: number | null;
  readonly min: number;
  readonly max: number;
  readonly step?: number;
  readonly start?: number;
  readonly onChange: (value: number | null) => void;
}

/** A measure with large buttons on both sides, in the units that a person chose. */
export function UnitStepper({ unit, value, min, max, step = 1, start, onChange, label }: Props) {
  const { unit: written, per } = writtenAs(unit, words.value.units);
  const shown = (measure: number) => (per === 1 ? measure : Number((measure * per).toFixed(3)));
  const by = per === 1 ? step : roundStep(step * per);
  return (
    <Stepper
      label={label}
      unit={unitName(written, words.value)}
      value={value === null ? null : shown(value)}
      min={shown(min)}
      max={shown(max)}
      step={by}
      {...(start !== undefined && {
        start: per === 1 ? start : Number((Math.round((start * per) / by) * by).toFixed(3)),
      })}
      onChange={(next) => onChange(next === null ? null : within(next / per, min, max))}
    />
  );
}

/** 1, 2 or 5 of a decimal place, the nearest to a step. */
function roundStep(step: number): number {
  const power = 10 ** Math.floor(Math.log10(step));
  const steps = [1, 2, 5, 10].map((n) => n * power);
  return steps.reduce((best, one) =>
    Math.abs(Math.log(one / step)) < Math.abs(Math.log(best / step)) ? one : best,
  );
}

function within(value: number, min: number, max: number): number {
  return Number(Math.min(Math.max(value, min), max).toFixed(6));
}
