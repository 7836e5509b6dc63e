import { UnitsFields } from '../parts/units-fields.tsx';
import { LanguageField } from '../parts/language-field.tsx';
import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { readingResultSchema, readingSchema } from '../../src/reading/reading.ts';
import type { KeptEnd } from '../store/database.ts';
import { EndCard } from '../keep/end-card.tsx';
import { withoutSignal } from '../keep/prepare-offline.ts';
import { keptEnds } from '../store/kept-ends.ts';
import { SettingsForm } from '../parts/settings-form.tsx';
import { settingsSummary } from '../parts/settings-summary.ts';
import { announce } from '../state/announce.ts';
import type { EndRecord } from '../state/end-record.ts';
import { leftBehind } from '../open-ends/left-behind.ts';
import { goTo, hashOf } from '../state/route.ts';
import { settings } from '../state/settings.ts';
import { say, words } from '../state/words.ts';

/** What opens ends is fetched apart, so that this first page is there at once. */
const ends = () => import('../open-ends/ends.ts');

/** While a person takes or chooses a photo, there is time to get everything ready for it. */
function prepare(): void {
  const nothing = () => {
    // What cannot be fetched now is asked for again with the photo, which then says so.
  };
  void ends().catch(nothing);
  void import('./end-page.tsx').catch(nothing);
  void import('../reader/read-in-worker.ts')
    .then(({ warmReader }) => warmReader({ rehearse: true }))
    .catch(nothing);
}

/** Where every end begins: a photo. */
export function HomePage() {
  const before = useSignal<File | null>(null);
  const recent = useSignal<readonly KeptEnd[]>([]);
  const left = useSignal<readonly EndRecord[]>([]);
  const over = useSignal(false);
  const wide = useRef(matchMedia('(min-width: 1000px)').matches);

  useEffect(() => {
    void keptEnds()
      .then((ends) => (recent.value = ends.slice(0, 3)))
      .catch(() => {});
    void leftBehind()
      .then((drafts) => (left.value = drafts))
      .catch(() => {});
  }, []);

  const open = async (files: readonly File[]) => {
    const json = files.find((file) => file.name.endsWith('.json'));
    const photos = files.filter((file) => file !== json);
    if (json) {
      const reading = await readingIn(json);
      if (!reading || photos.length !== 1) {
        announce(say('Choose one reading (JSON) together with its photo.'));
        return;
      }
      await (await ends()).openReading(photos[0]!, reading);
      return;
    }
    if (photos.length > 0) await (await ends()).openPhotos(photos, before.value);
  };
  const resume = async (id: string) => {
    const end = await (await ends()).restore(id);
    if (end) goTo('end', end.id);
  };
  const discard = async (draft: EndRecord) => {
    const { restore, discardEnd } = await ends();
    const end = await restore(draft.id);
    if (end) await discardEnd(end);
    left.value = left.value.filter((other) => other !== draft);
  };
  const demo = async () => (await import('../open-ends/open-demo.ts')).openDemo();
  const onFiles = (event: { currentTarget: HTMLInputElement }) => {
    const files = [...(event.currentTarget.files ?? [])];
    event.currentTarget.value = '';
    void open(files);
  };

  return (
    <main
      class={`page home${over.value ? ' home-over' : ''}`}
      onDragOver={(event) => {
        event.preventDefault();
        over.value = true;
      }}
      onDragLeave={() => (over.value = false)}
      onDrop={(event) => {
        event.preventDefault();
        over.value = false;
        void open([...(event.dataTransfer?.files ?? [])]);
      }}
    >
      <section class="start" aria-labelledby="start-title">
        <h1 id="start-title">
          {say('Photograph the face.')}
          <br />
          {say('Read the bow.')}
        </h1>
        <div class="start-buttons">
          <label class="button primary big">
            <svg viewBox="0 0 24 24" aria-hidden>
              <path d="M4 8h3l2-3h6l2 3h3v11H4z" />
              <circle cx="12" cy="13" r="3.5" />
            </svg>
            {say('Take a photo')}
            <input
              class="visually-hidden"
              type="file"
              accept="image/*"
              capture="environment"
              onClick={prepare}
              onChange={onFiles}
            />
          </label>
          <label class="button big">
            {say('Choose photos')}
            <input
              class="visually-hidden"
              type="file"
              accept="image/*,.heic,.heif,.json"
              multiple
              onClick={prepare}
              onChange={onFiles}
            />
          </label>
        </div>
        <label class={`before${before.value ? ' before-set' : ''}`}>
          <input
            class="visually-hidden"
            type="file"
            accept="image/*,.heic,.heif"
            onChange={(event) => (before.value = event.currentTarget.files?.[0] ?? null)}
          />
          <span>
            {before.value
              ? say('Before the end: {photo}', { photo: before.value.name })
              : say('A used face? Add a photo from before')}
          </span>
        </label>
        {withoutSignal.value && (
          <p class="without-signal">
            {withoutSignal.value === 'ready'
              ? say('Also reads photos without signal.')
              : say('Getting ready to read photos without signal…')}
          </p>
        )}
      </section>

      {left.value.length > 0 && (
        <section class="left-behind" aria-labelledby="left-title">
          <h2 id="left-title">{say('Not finished')}</h2>
          <ul>
            {left.value.map((draft) => (
              <li key={draft.id}>
                <span>
                  {draft.settings.archer || say('An end')} ·{' '}
                  {words.value.dayAndTime(draft.createdAt)}
                </span>
                <button type="button" class="button" onClick={() => void resume(draft.id)}>
                  {say('Continue')}
                </button>
                <button type="button" class="button" onClick={() => void discard(draft)}>
                  {say('Discard')}
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}

      <details class="about card" open={wide.current}>
        <summary>
          <span>{say('Next end')}</span>
          <small>{settingsSummary(settings.value)}</small>
        </summary>
        <SettingsForm value={settings.value} onChange={(next) => (settings.value = next)} />
      </details>

      {recent.value.length > 0 ? (
        <section aria-labelledby="recent-title">
          <div class="section-head">
            <h2 id="recent-title">{say('Kept lately')}</h2>
            <a href={hashOf('kept')}>{say('All ends')}</a>
          </div>
          <ul class="end-cards">
            {recent.value.map((end) => (
              <EndCard key={end.id} end={end} />
            ))}
          </ul>
        </section>
      ) : (
        <section class="first-time card" aria-labelledby="demo-title">
          <h2 id="demo-title">{say('No end yet?')}</h2>
          <p>
            {say(
              'Open one of Juna Feldweg’s, whom we made up: three fletched arrows and two bare shafts at 50 m.',
            )}
          </p>
          <button type="button" class="button" onClick={() => void demo()}>
            {say('Open the demo end')}
          </button>
          <h3>{say('A photo that reads well')}</h3>
          <ul class="tips">
            <li>{say('The whole face, as large as it goes.')}</li>
            <li>{say('From the front, the phone upright.')}</li>
            <li>{say('Arrows may still stand in it; holes alone are more exact.')}</li>
            <li>{say('On a used face, one photo before the end, one after.')}</li>
          </ul>
        </section>
      )}
      <section class="card preferences settings" aria-label={say('How this page speaks')}>
        <LanguageField />
        <UnitsFields />
      </section>
    </main>
  );
}

async function readingIn(file: File) {
  try {
    const content: unknown = JSON.parse(await file.text());
    const plain = readingSchema.safeParse(content);
    if (plain.success) return plain.data;
    const result = readingResultSchema.safeParse(content);
    return result.success && result.data.ok ? result.data.reading : null;
  } catch {
    return null;
  }
}
