import { useSignal } from '@preact/signals';
import { useEffect, useId, useRef } from 'preact/hooks';
import { say } from '../state/words.ts';

interface Props {
  /** What the button says that asks. */
  readonly what: string;
  /** What goes with it, and what stays. */
  readonly why: string;
  /** What the button says that changes nothing. */
  readonly leave: string;
  readonly onDelete: () => void;
}

/** By two presses: what is deleted there does not come back. */
export function DeleteForGood({ what, why, leave, onDelete }: Props) {
  const isAsked = useSignal(false);
  const id = useId();
  const harmless = useRef<HTMLButtonElement>(null);
  const isPressed = useRef(false);
  // The button that was pressed is gone: whoever goes by keys is at the one that does no harm.
  useEffect(() => {
    if (isPressed.current) harmless.current?.focus();
  }, [isAsked.value]);
  const ask = (next: boolean) => {
    isPressed.current = true;
    isAsked.value = next;
  };
  if (!isAsked.value) {
    return (
      <div class="button-row">
        <button ref={harmless} type="button" class="button" onClick={() => ask(true)}>
          {what}
        </button>
      </div>
    );
  }
  return (
    <div role="group" aria-labelledby={id}>
      <p id={id}>{why}</p>
      <div class="button-row">
        <button
          ref={harmless}
          type="button"
          class="button"
          aria-describedby={id}
          onClick={() => ask(false)}
        >
          {leave}
        </button>
        <button type="button" class="button" onClick={onDelete}>
          {say('Delete it for good')}
        </button>
      </div>
    </div>
  );
}
