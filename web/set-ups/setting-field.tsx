import { UnitStepper } from '../parts/unit-stepper.tsx';
import { adjusterName, choiceName } from '../../src/tuning/bow/adjuster-name.ts';
import { partOf } from '../../src/tuning/bow/parts.ts';
import type { Adjuster, Setting } from '../../src/tuning/bow/set-up.ts';
import { Choice } from '../parts/choice.tsx';
import { Stepper } from '../parts/stepper.tsx';
import { say, words } from '../state/words.ts';

interface Props {
  readonly adjuster: Adjuster;
  readonly value: Setting | undefined;
  readonly onChange: (value: Setting | undefined) => void;
}

/** One adjuster's reading, entered the way it is read off. */
export function SettingField({ adjuster, value, onChange }: Props) {
  const { scale } = adjuster;
  const name = adjusterName(adjuster, words.value);
  if (scale.type === 'choice') {
    return (
      <Choice
        label={name}
        value={value?.type === 'choice' ? value.choice : null}
        options={scale.choices.map((choice) => ({
          value: choice,
          label: choiceName(adjuster, choice, words.value),
        }))}
        onChange={(choice) => onChange({ type: 'choice', choice })}
      />
    );
  }
  if (scale.type === 'dial') {
    const read = value?.type === 'dial' ? value : null;
    const set = (change: { line?: number | null; mark?: number | null }) => {
      if (change.line === null || change.mark === null) return onChange(undefined);
      onChange({
        type: 'dial',
        line: change.line ?? read?.line ?? 0,
        mark: change.mark ?? read?.mark ?? 0,
      });
    };
    return (
      <>
        <Stepper
          label={say('{name}, lines that show', { name })}
          value={read?.line ?? null}
          min={0}
          max={scale.lines ?? 60}
          onChange={(line) => set({ line })}
        />
        <Stepper
          label={say('{name}, mark on the dial', { name })}
          value={read?.mark ?? null}
          min={0}
          max={scale.positionsPerLine - 1}
          onChange={(mark) => set({ mark })}
        />
      </>
    );
  }
  const { min = -1000, max = 5000, unit, step } = scale;
  return (
    <UnitStepper
      label={name}
      unit={unit}
      value={value?.type === 'number' ? value.value : null}
      min={min}
      max={max}
      step={step}
      start={partOf(adjuster.part).startsAt ?? Math.max(min, 0)}
      onChange={(next) => onChange(next === null ? undefined : { type: 'number', value: next })}
    />
  );
}
