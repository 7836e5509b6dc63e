import { useSignal } from '@preact/signals';
import { useId } from 'preact/hooks';
import { arrowNumberSchema, byArrowNumber } from '../../src/request/arrow-number.ts';
import { offeredNumbers } from '../state/arrow-numbers.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { setArrowNumber } from './edit-marks.ts';
import { say, words } from '../state/words.ts';

/** The number on a mark's shaft, one press each: again takes it away, others than those are typed. */
export function NumberRow({ end, id }: { readonly end: OpenEnd; readonly id: string }) {
  const typing = useSignal(false);
  const marks = end.marks.value;
  const own = marks.find((mark) => mark.id === id)?.arrowNumber ?? null;
  const offered = offeredNumbers();
  const shown = own === null || offered.includes(own) ? offered : [...offered, own].sort(byArrowNumber); // prettier-ignore
  const given = new Set(marks.map((mark) => mark.arrowNumber));
  return (
    <div class="numbers">
      <p class="field-name" id={`numbers-of-${id}`}>
        {say('Number on the shaft')}
      </p>
      <div class="number-row" role="group" aria-labelledby={`numbers-of-${id}`}>
        {shown.map((number) => (
          <button
            key={number}
            type="button"
            aria-pressed={number === own}
            class={given.has(number) && number !== own ? 'is-given' : undefined}
            onClick={() => setArrowNumber(end, id, number === own ? null : number)}
          >
            {number}
          </button>
        ))}
        <button
          type="button"
          class="other"
          aria-expanded={typing.value}
          onClick={() => (typing.value = !typing.value)}
        >
          {say('Other')}
        </button>
      </div>
      {typing.value && (
        <OtherNumber
          onSay={(number) => {
            setArrowNumber(end, id, number);
            typing.value = false;
          }}
        />
      )}
    </div>
  );
}

function OtherNumber({ onSay }: { readonly onSay: (arrowNumber: string) => void }) {
  const typed = useSignal('');
  const problem = useSignal<string | null>(null);
  const problemId = useId();
  const send = (event: Event) => {
    event.preventDefault();
    const number = arrowNumberSchema.safeParse(typed.value);
    if (number.success) onSay(number.data);
    else problem.value = number.error.issues[0]!.message;
  };
  return (
    <form class="number-form" onSubmit={send}>
      <input
        type="text"
        aria-label={say('Number on the shaft')}
        aria-describedby={problem.value === null ? undefined : problemId}
        autocomplete="off"
        autocapitalize="characters"
        maxLength={6}
        ref={(field) => field?.focus()}
        onInput={(event) => (typed.value = event.currentTarget.value)}
      />
      <button type="submit" class="button">
        {say('Set#number')}
      </button>
      {problem.value !== null && (
        <p id={problemId} role="alert">
          {words.value.again(problem.value)}
        </p>
      )}
    </form>
  );
}
