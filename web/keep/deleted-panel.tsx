import type { DeletedEnd } from '../store/database.ts';
import { DELETED_DAYS } from './delete-end.ts';
import { count, say, words } from '../state/words.ts';

interface Props {
  readonly ends: readonly DeletedEnd[];
  readonly onPutBack: (id: string) => void;
}

/** What was deleted lately, to put back. */
export function DeletedPanel({ ends, onPutBack }: Props) {
  if (ends.length === 0) return null;
  return (
    <details class="card deleted-ends">
      <summary>{count(ends.length, 'Deleted: {n} end', 'Deleted: {n} ends')}</summary>
      <p class="quiet">
        {say('They can be put back for {days} days, on this device.', { days: DELETED_DAYS })}
      </p>
      <ul>
        {ends.map(({ id, end }) => {
          const named = say('{archer}, {day}, {points} points', {
            archer: end.settings.archer || say('No name'),
            day: words.value.day(end.createdAt),
            points: end.reading.score.total,
          });
          return (
            <li key={id}>
              <span>{named}</span>
              <button
                type="button"
                class="button"
                aria-label={say('Put back: {what}', { what: named })}
                onClick={() => onPutBack(id)}
              >
                {say('Put back')}
              </button>
            </li>
          );
        })}
      </ul>
    </details>
  );
}
