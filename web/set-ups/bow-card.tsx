import { adjusterName } from '../../src/tuning/bow/adjuster-name.ts';
import { useSignal } from '@preact/signals';
import { preferredWords } from '../../src/tuning/bow/preferred-offset.ts';
import { settingWords } from '../../src/tuning/bow/setting-words.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { settings } from '../state/settings.ts';
import { NOBODY } from '../store/log-of-kept.ts';
import type { Book, BookActions } from './book.ts';
import { BookConflict } from './book-conflict.tsx';
import { JourneyView } from './journey-view.tsx';
import { BowForm } from './bow-form.tsx';
import { SetUpForm } from './set-up-form.tsx';
import { SetUpHistory } from './set-up-history.tsx';
import { count, say, words } from '../state/words.ts';

interface Props {
  readonly bow: Bow;
  readonly book: Book;
  readonly actions: BookActions;
}

/** A bow: how it is set now, what can be done about it, and how it came about. */
export function BowCard({ bow, book, actions }: Props) {
  const doing = useSignal<'write' | 'correct' | 'rename' | 'journey' | null>(null);
  const all = book.setUps.filter((setUp) => setUp.bowId === bow.id);
  const setUps = all.filter((setUp) => !setUp.archived);
  const inUse = setUps.find((setUp) => setUp.id === settings.value.setUpId);
  const present = inUse ?? setUps[0] ?? null;
  const isShotWith = all.some(({ id }) => book.shotWith.has(id));
  const note = book.inLog.get(bow.id);
  const done = () => (doing.value = null);
  if (doing.value === 'write' || (doing.value === 'correct' && present)) {
    const corrected = doing.value === 'correct' ? present : null;
    return (
      <SetUpForm
        bow={bow}
        from={present}
        corrected={corrected}
        ends={corrected ? (book.shotWith.get(corrected.id) ?? 0) : 0}
        onSave={(setUp) => {
          done();
          if (corrected)
            actions.write({ setUps: [setUp] }, say('“{name}” is corrected.', { name: setUp.name }));
          else actions.add(bow, setUp);
        }}
        onCancel={done}
      />
    );
  }
  return (
    <section class="card bow" aria-label={bow.name}>
      <div class="section-head">
        <h2 tabIndex={-1}>{bow.name}</h2>
        <span class="quiet">
          {bow.archerId === NOBODY ? '' : `${bow.archerId} · `}
          {say(`${bow.hand}-handed`)}
        </span>
      </div>
      {note && (
        <BookConflict
          note={note}
          bow={bow}
          isShotWith={isShotWith}
          onKeep={() => actions.insist(note)}
          onTake={() => actions.takeOther(note)}
        />
      )}
      {present ? (
        <>
          <h3>
            {present.name}
            {inUse && <span class="in-use">{say('in use')}</span>}
          </h3>
          <dl class="readings">
            {bow.adjusters
              .filter((adjuster) => present.settings[adjuster.id])
              .map((adjuster) => (
                <div key={adjuster.id}>
                  <dt>{adjusterName(adjuster, words.value)}</dt>
                  <dd>{settingWords(adjuster, present.settings[adjuster.id], words.value)}</dd>
                </div>
              ))}
            <div>
              <dt>{say('Bare shafts wanted')}</dt>
              <dd>{preferredWords(present.preferredMrad, bow.hand, words.value)}</dd>
            </div>
          </dl>
        </>
      ) : (
        <p>{say('Nothing written down yet.')}</p>
      )}
      {doing.value === 'rename' ? (
        <BowForm
          bow={bow}
          setUps={all}
          onSave={(changed) => {
            done();
            actions.write({ bows: [changed] });
          }}
          onCancel={done}
        />
      ) : (
        <div class="button-row">
          <button type="button" class="button primary" onClick={() => (doing.value = 'write')}>
            {say(present ? 'Write down a change' : 'Write down how it is set')}
          </button>
          {present && (
            <button type="button" class="button" onClick={() => (doing.value = 'correct')}>
              {say('Correct what is written')}
            </button>
          )}
          {present && (
            <button type="button" class="button" onClick={() => (doing.value = 'journey')}>
              {say('Pack for a journey')}
            </button>
          )}
          <button type="button" class="button" onClick={() => (doing.value = 'rename')}>
            {say('Name and plunger')}
          </button>
          <button
            type="button"
            class="button away"
            aria-label={say(isShotWith ? 'Archive the bow {bow}' : 'Delete the bow {bow}', {
              bow: bow.name,
            })}
            onClick={() =>
              isShotWith
                ? actions.archive({ bows: [bow] }, bow.name)
                : actions.remove({ bows: [bow], setUps: all }, bow.name)
            }
          >
            {say(isShotWith ? 'Archive' : 'Delete')}
          </button>
        </div>
      )}
      {present && doing.value === 'journey' && (
        <JourneyView bow={bow} setUp={present} onClose={done} />
      )}
      <SetUpHistory bow={bow} setUps={setUps} present={present} book={book} actions={actions} />
      <ArchivedSetUps setUps={all.filter((setUp) => setUp.archived)} actions={actions} />
    </section>
  );
}

function ArchivedSetUps({
  setUps,
  actions,
}: {
  readonly setUps: readonly SetUp[];
  readonly actions: BookActions;
}) {
  if (setUps.length === 0) return null;
  return (
    <details class="archived">
      <summary>{count(setUps.length, 'Archived: {n} set-up', 'Archived: {n} set-ups')}</summary>
      <ul>
        {setUps.map((setUp) => (
          <li key={setUp.id}>
            <span>{setUp.name}</span>
            <button
              type="button"
              class="button"
              aria-label={say('Take back the set-up {setUp}', { setUp: setUp.name })}
              onClick={() => actions.takeBack({ setUps: [setUp] })}
            >
              {say('Take back')}
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}
