interface Props {
  readonly label: string;
  readonly value: string;
  readonly onInput: (value: string) => void;
  readonly maxLength: number;
  readonly placeholder?: string;
  readonly autocomplete?: 'off';
  readonly required?: boolean;
}

/** A line of text with its name. */
export function TextField({ label, onInput, ...input }: Props) {
  return (
    <label class="field">
      <span class="field-name">{label}</span>
      <input type="text" {...input} onInput={(event) => onInput(event.currentTarget.value)} />
    </label>
  );
}
