import type { DeletedEnd } from '../store/database.ts';
import { DELETED_DAYS } from './delete-end.ts';

interface Props {
  readonly ends: readonly DeletedEnd[];
  readonly onPutBack: (id: string) => void;
}

/** What was deleted lately, to put back. */
export function DeletedPanel({ ends, onPutBack }: Props) {
  if (ends.length === 0) return null;
  return (
    <details class="card deleted-ends">
      <summary>Deleted: {ends.length === 1 ? '1 end' : `${ends.length} ends`}</summary>
      <p class="quiet">They can be put back for {DELETED_DAYS} days, on this device.</p>
      <ul>
        {ends.map(({ id, end }) => {
          const when = new Date(end.createdAt).toLocaleDateString(undefined, {
            dateStyle: 'medium',
          });
          const named = `${end.settings.archer || 'No name'}, ${when}, ${end.reading.score.total} points`;
          return (
            <li key={id}>
              <span>{named}</span>
              <button
                type="button"
                class="button"
                aria-label={`Put back: ${named}`}
                onClick={() => onPutBack(id)}
              >
                Put back
              </button>
            </li>
          );
        })}
      </ul>
    </details>
  );
}
