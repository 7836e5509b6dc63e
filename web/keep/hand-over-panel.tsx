import { Choice } from '../parts/choice.tsx';
import { HAS_SERVER } from '../state/server.ts';
import { handOver, handOverState, handOverWhat, type HandOver, type Waiting } from './hand-over.ts';

/** Whether kept ends go to the log of the server that the page came from, and how far they are. */
export function HandOverPanel() {
  if (!HAS_SERVER) return null;
  return (
    <section class="card hand-over" aria-labelledby="hand-over-title">
      <h2 id="hand-over-title">Log on the server</h2>
      <p class="quiet" role="status">
        {words()}
      </p>
      <Choice<HandOver>
        label="Hand over"
        value={handOverWhat.value}
        options={[
          { value: 'off', label: 'nothing' },
          { value: 'ends', label: 'ends' },
          { value: 'ends-and-photos', label: 'ends and photos' },
        ]}
        onChange={(what) => {
          handOverWhat.value = what;
          void handOver();
        }}
      />
    </section>
  );
}

function words(): string {
  const state = handOverState.value;
  if (handOverWhat.value === 'off') return 'Ends stay on this device.';
  switch (state.name) {
    case 'unknown':
      return 'Looking what is to be handed over.';
    case 'idle':
      return `Everything kept here is in the log at ${location.host}.`;
    case 'sending':
      return `Handing over: ${waits(state.waiting).words}.`;
    case 'unreachable': {
      const { count, words } = waits(state.waiting);
      return count === 0
        ? `${location.host} cannot be reached now. Nothing waits for it.`
        : `${words} until ${location.host} can be reached.`;
    }
    case 'no-room': {
      const { count, words } = waits(state.waiting);
      return `${words} and ${count === 1 ? 'stays' : 'stay'} here meanwhile. ${location.host} says: ${state.message}`;
    }
    case 'refused':
      return state.message;
  }
}

/** '2 ends and 1 change of the set-up book wait'. */
function waits({ ends, changes }: Waiting): { readonly count: number; readonly words: string } {
  const parts = [
    ends > 0 ? (ends === 1 ? '1 end' : `${ends} ends`) : null,
    changes > 0 ? `${changes === 1 ? '1 change' : `${changes} changes`} of the set-up book` : null,
  ].filter((part) => part !== null);
  const count = ends + changes;
  return { count, words: `${parts.join(' and ')} ${count === 1 ? 'waits' : 'wait'}` };
}
