import { useSignal } from '@preact/signals';
import { useId } from 'preact/hooks';
import { DEAD_ZONE_MRAD } from '../../src/tuning/advice/axis-verdict.ts';
import { PLATE } from '../../src/tuning/advice/plate.ts';
import type { PlainText } from '../../src/words/words.ts';
import { say, words } from '../state/words.ts';

/** Terms that not everybody at the boss knows, and what they mean. */
const TERMS = {
  mrad: {
    name: 'milliradian',
    meaning: () =>
      say(
        'A milliradian (mrad) is an angle: 1 mm at 1 m, 30 mm at 30 m. It says the same of a bow at every distance.',
      ),
  },
  plate: {
    name: 'plate',
    meaning: () =>
      say(
        'The plate is a circle around the middle of the fletched arrows, {size} across at {distance}, to scale elsewhere. Plunger and nocking point can bring in bare shafts inside it; outside it draw weight or arrow do not suit.',
        { size: words.value.mm(PLATE.diameterMm), distance: words.value.metres(PLATE.atM) },
      ),
  },
  'dead-zone': {
    name: 'dead zone',
    meaning: () =>
      say(
        'The dead zone is how near is near enough: within {zone} mrad of where you want the bare shafts no change makes the bow better.',
        { zone: DEAD_ZONE_MRAD },
      ),
  },
} as const satisfies Record<string, { readonly name: PlainText; readonly meaning: () => string }>;

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
          {meaning()}
        </span>
      )}
    </>
  );
}
