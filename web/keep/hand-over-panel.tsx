import { Choice } from '../parts/choice.tsx';
import { HAS_SERVER } from '../state/server.ts';
import { handOver, handOverState, handOverWhat, type HandOver, type Waiting } from './hand-over.ts';
import { count, say, words } from '../state/words.ts';

/** Whether kept ends go to the log of the server that the page came from, and how far they are. */
export function HandOverPanel() {
  if (!HAS_SERVER) return null;
  return (
    <section class="card hand-over" aria-labelledby="hand-over-title">
      <h2 id="hand-over-title">{say('Log on the server')}</h2>
      <p class="quiet" role="status">
        {stateWords()}
      </p>
      <Choice<HandOver>
        label={say('Hand over')}
        value={handOverWhat.value}
        options={[
          { value: 'off', label: say('nothing#hand-over') },
          { value: 'ends', label: say('ends') },
          { value: 'ends-and-photos', label: say('ends and photos') },
        ]}
        onChange={(what) => {
          handOverWhat.value = what;
          void handOver();
        }}
      />
    </section>
  );
}

function stateWords(): string {
  const state = handOverState.value;
  const { host } = location;
  if (handOverWhat.value === 'off') return say('Ends stay on this device.');
  switch (state.name) {
    case 'unknown':
      return say('Looking what is to be handed over.');
    case 'idle':
      return say('Everything kept here is in the log at {host}.', { host });
    case 'sending':
      return say('Handing over: {what}.', { what: waits(state.waiting) });
    case 'unreachable': {
      return state.waiting.ends + state.waiting.changes === 0
        ? say('{host} cannot be reached now. Nothing waits for it.', { host })
        : say('{what} until {host} can be reached.', { what: waits(state.waiting), host });
    }
    case 'no-room': {
      const stay = count(
        state.waiting.ends + state.waiting.changes,
        '{what} and stays here meanwhile.',
        '{what} and stay here meanwhile.',
        { what: waits(state.waiting) },
      );
      const message = words.value.again(state.message);
      return `${stay} ${say('{host} says: {message}', { host, message })}`;
    }
    case 'refused':
      return words.value.again(state.message);
  }
}

/** '2 ends and 1 change of the set-up book wait'. */
function waits({ ends, changes }: Waiting): string {
  const parts = [
    ...(ends > 0 ? [count(ends, '{n} end', '{n} ends')] : []),
    ...(changes > 0
      ? [count(changes, '{n} change of the set-up book', '{n} changes of the set-up book')]
      : []),
  ];
  const what = words.value.list(parts);
  return count(ends + changes, '{what} waits', '{what} wait', { what });
}
