import { say } from '../state/words.ts';

interface Props {
  readonly label: string;
  readonly value: number | null;
  readonly min: number;
  readonly max: number;
  readonly step?: number;
  readonly unit?: string;
  /** Where the buttons start from while nothing is known. */
  readonly start?: number;
  readonly onChange: (value: number | null) => void;
}

/** A number with large buttons on both sides; empty means not known. */
export function Stepper({ label, value, min, max, step = 1, unit, start, onChange }: Props) {
  const clamp = (n: number) => Math.min(Math.max(Math.round(n / step) * step, min), max);
  const tidy = (n: number) => Number(n.toFixed(3));
  const by = (direction: 1 | -1) =>
    onChange(tidy(value === null ? (start ?? min) : clamp(value + direction * step)));
  return (
    <div class="field stepper" role="group" aria-label={label}>
      <span class="field-name" aria-hidden>
        {label}
      </span>
      <div class="stepper-row">
        <button
          type="button"
          aria-label={say('Less: {what}', { what: label })}
          onClick={() => by(-1)}
        >
          −
        </button>
        <label class="stepper-value">
          <input
            type="number"
            inputMode="decimal"
            aria-label={unit ? `${label}, ${unit}` : label}
            value={value ?? ''}
            placeholder="?"
            min={min}
            max={max}
            step="any"
            onChange={(event) => {
              const typed = event.currentTarget.valueAsNumber;
              onChange(Number.isNaN(typed) ? null : Math.min(Math.max(tidy(typed), min), max));
            }}
          />
          {unit && <span aria-hidden>{unit}</span>}
        </label>
        <button
          type="button"
          aria-label={say('More: {what}', { what: label })}
          onClick={() => by(1)}
        >
          +
        </button>
      </div>
    </div>
  );
}
