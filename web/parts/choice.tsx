import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

interface Props<T extends string> {
  readonly label: string;
  readonly value: T | null;
  readonly options: readonly { readonly value: T; readonly label: ComponentChildren }[];
  readonly onChange: (value: T) => void;
}

/** One of a few, as a row of large buttons. */
export function Choice<T extends string>({ label, value, options, onChange }: Props<T>) {
  const name = useId();
  return (
    <fieldset class="field choice">
      <legend class="field-name">{label}</legend>
      <div class="choice-row">
        {options.map((option) => (
          <label key={option.value}>
            <input
              type="radio"
              name={name}
              value={option.value}
              checked={option.value === value}
              onChange={() => onChange(option.value)}
            />
            <span>{option.label}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
