import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { sayOfEnd } from '../open-ends/say-of-end.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { shotWith } from '../state/settings.ts';
import type { Book } from '../store/log-of-kept.ts';
import { writtenBook } from '../store/written-book.ts';
import { say } from '../state/words.ts';

/** Which set-up of the book the end was shot with; nothing while there is no book. */
export function SetUpChoice({ end }: { readonly end: OpenEnd }) {
  const book = useSignal<Book>({ bows: [], setUps: [] });
  useEffect(() => {
    void writtenBook().then((written) => (book.value = written));
  }, []);
  const { setUpId } = end.settings.value;
  const { bows, setUps } = book.value;
  // What is archived is offered only where the end has it.
  const offered = bows
    .map((bow) => ({
      bow,
      own: setUps
        .filter((one) => one.bowId === bow.id)
        .filter((one) => one.id === setUpId || !(one.archived || bow.archived))
        .sort((a, b) => b.date.localeCompare(a.date)),
    }))
    .filter(({ own }) => own.length > 0);
  if (offered.length === 0) return null;
  const choose = (id: string) => {
    const setUp = setUps.find((one) => one.id === id);
    const bow = bows.find((one) => one.id === setUp?.bowId);
    sayOfEnd(end, setUp && bow ? shotWith(bow, setUp) : { setUpId: null });
  };
  return (
    <label class="field">
      <span class="field-name">{say('Set-up')}</span>
      <select value={setUpId ?? ''} onChange={({ currentTarget: { value } }) => choose(value)}>
        <option value="">{say('None that is written down')}</option>
        {offered.map(({ bow, own }) => (
          <optgroup key={bow.id} label={bow.name}>
            {own.map((setUp) => (
              <option key={setUp.id} value={setUp.id}>
                {setUp.name}
              </option>
            ))}
          </optgroup>
        ))}
      </select>
    </label>
  );
}
