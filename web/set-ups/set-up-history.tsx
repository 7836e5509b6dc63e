import { useSignal } from '@preact/signals';
import { setUpDifference } from '../../src/tuning/bow/set-up-difference.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { settings } from '../state/settings.ts';
import type { Book, BookActions } from './book.ts';
import { BookConflict } from './book-conflict.tsx';
import { RestoreSheetView } from './restore-sheet-view.tsx';
import { say, words } from '../state/words.ts';

interface Props {
  readonly bow: Bow;
  /** Of this bow, latest first. */
  readonly setUps: readonly SetUp[];
  readonly present: SetUp | null;
  readonly book: Book;
  readonly actions: BookActions;
}

/** A bow's set-ups, each by what it changed, and the way back to it. */
export function SetUpHistory({ bow, setUps, present, book, actions }: Props) {
  const restoring = useSignal<string | null>(null);
  if (setUps.length === 0) return null;
  return (
    <ol class="history">
      {setUps.map((setUp, i) => {
        const earlier = setUps[i + 1];
        const changes = earlier ? setUpDifference(bow, earlier, setUp, words.value) : null;
        const note = book.inLog.get(setUp.id);
        const isShotWith = book.shotWith.has(setUp.id);
        const isInUse = setUp.id === settings.value.setUpId;
        return (
          <li key={setUp.id}>
            <p>
              <b>{setUp.name}</b>{' '}
              <time class="quiet" dateTime={setUp.date}>
                {words.value.day(setUp.date)}
              </time>
            </p>
            <p class="quiet">
              {changes === null
                ? say('The first one written down.')
                : changes.length === 0
                  ? say('Nothing differs from the one before.')
                  : changes
                      .map((change) =>
                        say('{what}: {how}', { what: change.name, how: change.words }),
                      )
                      .join('; ')}
            </p>
            {setUp.notes && <p>{setUp.notes}</p>}
            {note && (
              <BookConflict
                note={note}
                bow={bow}
                setUp={setUp}
                isShotWith={isShotWith}
                onKeep={() => actions.insist(note)}
                onTake={() => actions.takeOther(note)}
              />
            )}
            <div class="button-row">
              <button
                type="button"
                class="button"
                disabled={isInUse}
                onClick={() => actions.use(bow, setUp)}
              >
                {say(isInUse ? 'In use' : 'Use for next ends')}
              </button>
              <button
                type="button"
                class="button"
                onClick={() => (restoring.value = restoring.value === setUp.id ? null : setUp.id)}
              >
                {say('How to get back to it')}
              </button>
              <button
                type="button"
                class="button away"
                aria-label={say(
                  isShotWith ? 'Archive the set-up {setUp}' : 'Delete the set-up {setUp}',
                  { setUp: setUp.name },
                )}
                onClick={() =>
                  isShotWith
                    ? actions.archive({ setUps: [setUp] }, setUp.name)
                    : actions.remove({ setUps: [setUp] }, setUp.name)
                }
              >
                {say(isShotWith ? 'Archive' : 'Delete')}
              </button>
            </div>
            {restoring.value === setUp.id && (
              <RestoreSheetView
                bow={bow}
                setUp={setUp}
                present={present && present.id !== setUp.id ? present : null}
                onDone={() => {
                  restoring.value = null;
                  actions.use(bow, setUp);
                }}
                onClose={() => (restoring.value = null)}
              />
            )}
          </li>
        );
      })}
    </ol>
  );
}
