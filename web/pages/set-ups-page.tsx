import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { preferredWords } from '../../src/tuning/bow/preferred-offset.ts';
import { setUpDifference } from '../../src/tuning/bow/set-up-difference.ts';
import { settingWords } from '../../src/tuning/bow/setting-words.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { database } from '../store/database.ts';
import { keptEnds } from '../store/kept-ends.ts';
import { NewBowForm } from '../set-ups/new-bow-form.tsx';
import { RestoreSheetView } from '../set-ups/restore-sheet-view.tsx';
import { TextField } from '../parts/text-field.tsx';
import { SetUpForm } from '../set-ups/set-up-form.tsx';
import { announce } from '../state/announce.ts';
import { settings } from '../state/settings.ts';

interface Book {
  /** Set-ups that ends were shot with. */
  readonly shotWith: ReadonlySet<string>;
  readonly bows: readonly Bow[];
  /** Latest first. */
  readonly setUps: readonly SetUp[];
}

/** The set-up book: each bow's readings now, how they came about, and the way back. */
export function SetUpsPage() {
  const book = useSignal<Book | null>(null);
  const adding = useSignal(false);
  const load = async () => {
    const db = await database();
    const setUps = await db.getAll('setUps');
    const ends = [...(await keptEnds()), ...(await db.getAll('drafts'))];
    book.value = {
      shotWith: new Set(ends.flatMap((end) => end.settings.setUpId ?? [])),
      bows: await db.getAll('bows'),
      setUps: setUps.sort((a, b) => b.date.localeCompare(a.date)),
    };
  };
  useEffect(
    () => void load().catch(() => (book.value = { bows: [], setUps: [], shotWith: new Set() })),
    [],
  );
  if (!book.value) return <main class="page" />;
  const { bows, setUps, shotWith } = book.value;

  const addBow = async (bow: Bow) => {
    await (await database()).put('bows', bow);
    adding.value = false;
    await load();
  };
  const deleteBow = async (bow: Bow) => {
    const own = setUps.filter((setUp) => setUp.bowId === bow.id);
    const write = (await database()).transaction(['bows', 'setUps'], 'readwrite');
    await write.objectStore('bows').delete(bow.id);
    for (const { id } of own) await write.objectStore('setUps').delete(id);
    await write.done;
    await load();
    announce(`“${bow.name}” is deleted.`, {
      label: 'Undo',
      run: () => void putBack([bow], own),
    });
  };
  const deleteSetUp = async (setUp: SetUp) => {
    await (await database()).delete('setUps', setUp.id);
    const wasInUse = settings.value.setUpId === setUp.id;
    if (wasInUse) settings.value = { ...settings.value, setUpId: null };
    await load();
    announce(`“${setUp.name}” is deleted.`, {
      label: 'Undo',
      run: () => {
        if (wasInUse) settings.value = { ...settings.value, setUpId: setUp.id };
        void putBack([], [setUp]);
      },
    });
  };
  const putBack = async (gone: readonly Bow[], own: readonly SetUp[]) => {
    const write = (await database()).transaction(['bows', 'setUps'], 'readwrite');
    for (const bow of gone) await write.objectStore('bows').put(bow);
    for (const setUp of own) await write.objectStore('setUps').put(setUp);
    await write.done;
    await load();
  };
  const addSetUp = async (bow: Bow, setUp: SetUp) => {
    await (await database()).put('setUps', setUp);
    use(bow, setUp);
    await load();
  };

  return (
    <main class="page set-ups">
      <h1>Set-up book</h1>
      {bows.length === 0 && (
        <p>
          Write down how the bow is set before you change anything, and any change can be undone.
          The book stays on this device.
        </p>
      )}
      {bows.map((bow) => (
        <BowCard
          key={bow.id}
          bow={bow}
          setUps={setUps.filter((setUp) => setUp.bowId === bow.id)}
          shotWith={shotWith}
          onAdd={(setUp) => void addSetUp(bow, setUp)}
          onRename={(name) => void addBow({ ...bow, name })}
          onDelete={() => void deleteBow(bow)}
          onDeleteSetUp={(setUp) => void deleteSetUp(setUp)}
        />
      ))}
      {bows.length === 0 || adding.value ? (
        <NewBowForm onSave={(bow) => void addBow(bow)} />
      ) : (
        <button type="button" class="button" onClick={() => (adding.value = true)}>
          Add a bow
        </button>
      )}
    </main>
  );
}

/** The next ends are shot with this set-up. */
function use(bow: Bow, setUp: SetUp): void {
  settings.value = {
    ...settings.value,
    setUpId: setUp.id,
    hand: bow.hand,
    preferredMrad: setUp.preferredMrad,
  };
  announce(`Next ends are shot with “${setUp.name}”.`);
}

interface BowProps {
  readonly bow: Bow;
  readonly setUps: readonly SetUp[];
  /** Set-ups that ends were shot with. */
  readonly shotWith: ReadonlySet<string>;
  readonly onAdd: (setUp: SetUp) => void;
  readonly onRename: (name: string) => void;
  readonly onDelete: () => void;
  readonly onDeleteSetUp: (setUp: SetUp) => void;
}

function BowCard({ bow, setUps, shotWith, onAdd, onRename, onDelete, onDeleteSetUp }: BowProps) {
  const newName = useSignal<string | null>(null);
  const isShotWith = setUps.some(({ id }) => shotWith.has(id));
  const writing = useSignal(false);
  const restoring = useSignal<SetUp | null>(null);
  const inUse = setUps.find((setUp) => setUp.id === settings.value.setUpId);
  const present = inUse ?? setUps[0] ?? null;
  if (writing.value) {
    return (
      <SetUpForm
        bow={bow}
        from={present}
        onSave={(setUp) => {
          writing.value = false;
          onAdd(setUp);
        }}
        onCancel={() => (writing.value = false)}
      />
    );
  }
  return (
    <section class="card bow" aria-label={bow.name}>
      <div class="section-head">
        <h2>{bow.name}</h2>
        <span class="quiet">
          {bow.archerId} · {bow.hand}-handed
        </span>
      </div>
      {present ? (
        <>
          <h3>
            {present.name}
            {inUse && <span class="in-use">in use</span>}
          </h3>
          <dl class="readings">
            {bow.adjusters
              .filter((adjuster) => present.settings[adjuster.id])
              .map((adjuster) => (
                <div key={adjuster.id}>
                  <dt>{adjuster.name}</dt>
                  <dd>{settingWords(adjuster, present.settings[adjuster.id])}</dd>
                </div>
              ))}
            <div>
              <dt>Bare shafts wanted</dt>
              <dd>{preferredWords(present.preferredMrad, bow.hand)}</dd>
            </div>
          </dl>
        </>
      ) : (
        <p>Nothing written down yet.</p>
      )}
      <div class="button-row">
        <button type="button" class="button primary" onClick={() => (writing.value = true)}>
          {present ? 'Write down a change' : 'Write down how it is set'}
        </button>
        <button type="button" class="button" onClick={() => (newName.value = bow.name)}>
          Rename
        </button>
        {!isShotWith && (
          <button
            type="button"
            class="button"
            aria-label={`Delete the bow ${bow.name}`}
            onClick={onDelete}
          >
            Delete
          </button>
        )}
      </div>
      {newName.value !== null && (
        <form
          class="set-up-form"
          onSubmit={(event) => {
            event.preventDefault();
            const name = newName.value?.trim();
            if (name) onRename(name);
            newName.value = null;
          }}
        >
          <TextField
            label="New name of the bow"
            required
            maxLength={80}
            value={newName.value}
            onInput={(name) => (newName.value = name)}
          />
          <button type="submit" class="button primary">
            Save the name
          </button>
        </form>
      )}
      {setUps.length > 0 && (
        <ol class="history">
          {setUps.map((setUp, i) => {
            const earlier = setUps[i + 1];
            const changes = earlier ? setUpDifference(bow, earlier, setUp) : null;
            return (
              <li key={setUp.id}>
                <p>
                  <b>{setUp.name}</b>{' '}
                  <time class="quiet" dateTime={setUp.date}>
                    {new Date(setUp.date).toLocaleDateString(undefined, { dateStyle: 'medium' })}
                  </time>
                </p>
                <p class="quiet">
                  {changes === null
                    ? 'The first one written down.'
                    : changes.length === 0
                      ? 'Nothing differs from the one before.'
                      : changes.map((change) => `${change.name}: ${change.words}`).join('; ')}
                </p>
                {setUp.notes && <p>{setUp.notes}</p>}
                <div class="button-row">
                  <button
                    type="button"
                    class="button"
                    disabled={setUp.id === settings.value.setUpId}
                    onClick={() => use(bow, setUp)}
                  >
                    {setUp.id === settings.value.setUpId ? 'In use' : 'Use for next ends'}
                  </button>
                  <button
                    type="button"
                    class="button"
                    onClick={() => (restoring.value = restoring.value === setUp ? null : setUp)}
                  >
                    How to get back to it
                  </button>
                  {!shotWith.has(setUp.id) && (
                    <button
                      type="button"
                      class="button"
                      aria-label={`Delete the set-up ${setUp.name}`}
                      onClick={() => onDeleteSetUp(setUp)}
                    >
                      Delete
                    </button>
                  )}
                </div>
                {restoring.value === setUp && (
                  <RestoreSheetView
                    bow={bow}
                    setUp={setUp}
                    present={present && present.id !== setUp.id ? present : null}
                    onClose={() => (restoring.value = null)}
                  />
                )}
              </li>
            );
          })}
        </ol>
      )}
    </section>
  );
}
