import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { bookChanges, insistOnBook, takeOverFromLog } from '../keep/book-in-log.ts';
import { archive, takeBack, takeOut, writeDown } from '../keep/change-book.ts';
import { handOver, handOverWhat } from '../keep/hand-over.ts';
import { EMPTY_BOOK, openBook, type Book, type BookActions } from '../set-ups/book.ts';
import { BowCard } from '../set-ups/bow-card.tsx';
import { NewBowForm } from '../set-ups/new-bow-form.tsx';
import { announce } from '../state/announce.ts';
import { settings, shotWith } from '../state/settings.ts';
import type { InLog } from '../store/database.ts';
import { NOBODY } from '../store/log-of-kept.ts';
import { count, say } from '../state/words.ts';

/** The set-up book: each bow's readings now, how they came about, and the way back. */
export function SetUpsPage() {
  const book = useSignal<Book | null>(null);
  const adding = useSignal(false);
  const load = async () => {
    const now = await openBook();
    // What another device wrote down may come in while the first bow is being named.
    if (now.bows.length === 0) adding.value = true;
    book.value = now;
  };
  const changes = bookChanges.value;
  useEffect(() => void load().catch(() => (book.value = EMPTY_BOOK)), [changes]);
  useEffect(() => void handOver().catch(() => {}), []);
  if (!book.value) return <main class="page" />;
  const { archer } = settings.value;
  const bows = [...book.value.bows].sort(
    (a, b) =>
      Number(b.archerId === archer) - Number(a.archerId === archer) || a.name.localeCompare(b.name),
  );
  const inUse = bows.filter((bow) => !bow.archived);
  const archived = bows.filter((bow) => bow.archived);

  const undoable = async (words: string, change: Promise<() => Promise<void>>) => {
    const undo = await change;
    await load();
    announce(words, { label: say('Undo'), run: () => void undo().then(load) });
    // The button that had the focus is gone.
    document.querySelector<HTMLElement>('.set-ups h1')?.focus({ preventScroll: true });
  };
  const choose = async (note: InLog, choice: (note: InLog) => Promise<void>) => {
    await choice(note);
    void handOver();
  };
  const actions: BookActions = {
    add: (bow, setUp) =>
      void writeDown({ setUps: [setUp] }).then(() => {
        use(bow, setUp);
        return load();
      }),
    write: (rows, words) =>
      void writeDown(rows).then(() => {
        if (words) announce(words);
        return load();
      }),
    remove: (rows, name) => void undoable(say('“{name}” is deleted.', { name }), takeOut(rows)),
    archive: (rows, name) =>
      void undoable(say('“{name}” is archived: its ends keep it.', { name }), archive(rows)),
    takeBack: (rows) => void takeBack(rows).then(load),
    use,
    insist: (note) => void choose(note, insistOnBook),
    takeOther: (note) => void choose(note, takeOverFromLog),
  };
  const addBow = async (bow: Bow) => {
    await writeDown({ bows: [bow] });
    if (settings.value.archer.trim() === '' && bow.archerId !== NOBODY) {
      settings.value = { ...settings.value, archer: bow.archerId };
    }
    adding.value = false;
    await load();
  };

  return (
    <main class="page set-ups">
      <h1 tabIndex={-1}>{say('Set-up book')}</h1>
      {inUse.length === 0 && (
        <p>
          {say('Write down how the bow is set, and any change can be undone.')}{' '}
          {handOverWhat.value === 'off'
            ? say('The book stays on this device.')
            : say('The book is kept on this device and in the log at {host}.', {
                host: location.host,
              })}
        </p>
      )}
      {inUse.map((bow) => (
        <BowCard key={bow.id} bow={bow} book={book.value!} actions={actions} />
      ))}
      {adding.value ? (
        <NewBowForm onSave={(bow) => void addBow(bow)} />
      ) : (
        <button type="button" class="button" onClick={() => (adding.value = true)}>
          {say('Add a bow')}
        </button>
      )}
      {archived.length > 0 && (
        <details class="card archived">
          <summary>{count(archived.length, 'Archived: {n} bow', 'Archived: {n} bows')}</summary>
          <ul>
            {archived.map((bow) => (
              <li key={bow.id}>
                <span>{bow.name}</span>
                <button
                  type="button"
                  class="button"
                  aria-label={say('Take back the bow {bow}', { bow: bow.name })}
                  onClick={() => actions.takeBack({ bows: [bow] })}
                >
                  {say('Take back')}
                </button>
              </li>
            ))}
          </ul>
        </details>
      )}
    </main>
  );
}

/** The next ends are shot with this set-up. */
function use(bow: Bow, setUp: SetUp): void {
  settings.value = { ...settings.value, ...shotWith(bow, setUp) };
  announce(say('Next ends are shot with “{setUp}”.', { setUp: setUp.name }));
}
