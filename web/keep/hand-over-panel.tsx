import { Choice } from '../parts/choice.tsx';
import { HAS_SERVER } from '../state/server.ts';
import { handOver, handOverState, handOverWhat, type HandOver } from './hand-over.ts';

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
  const ends = (count: number) => (count === 1 ? '1 end waits' : `${count} ends wait`);
  switch (state.name) {
    case 'unknown':
      return 'Looking what is to be handed over.';
    case 'idle':
      return `Everything kept here is in the log at ${location.host}.`;
    case 'sending':
      return `Handing over: ${ends(state.waiting)}.`;
    case 'unreachable':
      return `${ends(state.waiting)} until ${location.host} can be reached.`;
    case 'no-room':
      return `${ends(state.waiting)} and ${state.waiting === 1 ? 'stays' : 'stay'} here meanwhile. ${location.host} says: ${state.message}`;
    case 'refused':
      return state.message;
  }
}
