import { useSignal } from '@preact/signals';
import { useId } from 'preact/hooks';
import type { PlainText } from '../../src/words/words.ts';
import { say } from '../state/words.ts';

/** Terms that not everybody at the boss knows, and what they mean. */
const TERMS = {
  mrad: {
    name: 'milliradian',
    meaning:
      'A milliradian (mrad) is an angle: one millimetre at one metre from you, 30 mm at 30 m. It tells the same of a bow at every distance.',
  },
  plate: {
    name: 'plate',
    meaning:
      'The plate is a circle around the middle of the fletched arrows, 270 mm across at 30 m and as much smaller or larger as you stand nearer or farther. Within it plunger and nocking point can bring the bare shafts in; beyond it draw weight or arrow do not suit.',
  },
  'dead-zone': {
    name: 'dead zone',
    meaning:
      'The dead zone is how near is near enough: within 0.7 mrad of where you want the bare shafts, each way, no change would make the bow shoot better.',
  },
} as const satisfies Record<string, { readonly name: PlainText; readonly meaning: PlainText }>;

/** A question mark beside a term that says what it means where it stands, one tap away. */
export function Explained({ term }: { readonly term: keyof typeof TERMS }) {
  const open = useSignal(false);
  const id = useId();
  const { name, meaning } = TERMS[term];
  return (
    <>
      <button
        type="button"
        class="explain"
        aria-label={say('What is that: {term}?', { term: say(name) })}
        aria-expanded={open.value}
        aria-controls={open.value ? id : undefined}
        onClick={() => (open.value = !open.value)}
      >
        ?
      </button>
      {open.value && (
        <span id={id} class="explanation" role="note">
          {say(meaning)}
        </span>
      )}
    </>
  );
}
