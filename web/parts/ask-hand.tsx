import { useSignal } from '@preact/signals';
import { sayOfEnd } from '../open-ends/say-of-end.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { say } from '../state/words.ts';
import { HandChoice } from './hand-choice.tsx';

/** Asks which hand shot an end of which neither a person nor an earlier end has said it. */
export function AskHand({ end }: { readonly end: OpenEnd }) {
  // Once asked it stays, so that a slip can be put right.
  const isAsked = useSignal(end.hand.value === null);
  if (!isAsked.value) return null;
  return (
    <div class="ask">
      <HandChoice
        label={say(
          'Does the archer shoot right- or left-handed? It tells a weak arrow from a stiff one.',
        )}
        value={end.settings.value.hand}
        onChange={(hand) => sayOfEnd(end, { hand })}
      />
    </div>
  );
}
