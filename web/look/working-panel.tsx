import { cancelReading } from '../open-ends/ends.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { STAGES } from './stages.ts';
import { say } from '../state/words.ts';

/** What the reader is at, with a way out. */
export function WorkingPanel({ end }: { end: OpenEnd }) {
  const status = end.status.value;
  const stages = STAGES.filter(
    ([id]) =>
      (id !== 'before' || end.before.value !== null) && (id !== 'also' || end.also.value !== null),
  );
  const at = status.name === 'reading' ? stages.findIndex(([id]) => id === status.stage) : -1;
  return (
    <section class="working" aria-live="polite" aria-busy="true">
      <h1>{say(status.name === 'waiting' ? 'Waiting for its turn' : 'Reading the photo')}</h1>
      <ol class="stages">
        {stages.map(([id, words], i) => (
          <li
            key={id}
            data-state={i < at ? 'done' : i === at ? 'now' : 'next'}
            aria-current={i === at ? 'step' : undefined}
          >
            {say(words)}
          </li>
        ))}
      </ol>
      <button type="button" class="button" onClick={() => cancelReading(end)}>
        {say('Cancel')}
      </button>
    </section>
  );
}
