import { useSignal } from '@preact/signals';
import { TextField } from '../parts/text-field.tsx';

interface Props {
  readonly label: string;
  readonly name: string;
  readonly onSave: (name: string) => void;
  readonly onCancel: () => void;
}

/** A new name for something of the book. */
export function NameForm({ label, name, onSave, onCancel }: Props) {
  const next = useSignal(name);
  return (
    <form
      class="set-up-form"
      onSubmit={(event) => {
        event.preventDefault();
        const said = next.value.trim();
        if (said !== '') onSave(said);
      }}
    >
      <TextField
        label={label}
        required
        maxLength={80}
        value={next.value}
        onInput={(value) => (next.value = value)}
      />
      <div class="button-row">
        <button type="submit" class="button primary">
          Save the name
        </button>
        <button type="button" class="button" onClick={onCancel}>
          Cancel
        </button>
      </div>
    </form>
  );
}
