import { signal } from '@preact/signals';
import type { ComponentType } from 'preact';
import { say } from '../state/words.ts';

/** A page whose code is fetched when it is first shown, or before. */
export interface LazyPage {
  readonly Page: ComponentType;
  /** Fetches its code; what cannot be had now is asked for again when it is shown. */
  readonly prepare: () => Promise<void>;
}

export function lazy(load: () => Promise<ComponentType>): LazyPage {
  const loaded = signal<ComponentType | null>(null);
  const failed = signal(false);
  let loading: Promise<void> | undefined;
  const prepare = (): Promise<void> =>
    (loading ??= load().then(
      (page) => {
        loaded.value = page;
      },
      () => {
        failed.value = true;
        loading = undefined;
      },
    ));
  const tryAgain = async () => {
    failed.value = false;
    await prepare();
    // Browsers may remember that a module could not be had, and ask no more: all that is open is stored.
    if (failed.value && (await isReachable())) window.location.reload();
  };
  function Page() {
    const Loaded = loaded.value;
    if (Loaded) return <Loaded />;
    if (!failed.value) {
      void prepare();
      return <main class="page" aria-busy />;
    }
    return (
      <main class="page">
        <h1>{say('Not loaded yet')}</h1>
        <p role="alert">
          {say(
            'This part of the page could not be loaded: connect and try again. What is kept is safe.',
          )}
        </p>
        <button type="button" class="button primary" onClick={() => void tryAgain()}>
          {say('Try again')}
        </button>
      </main>
    );
  }
  return { Page, prepare };
}

/** Whether the page itself could be had now. */
function isReachable(): Promise<boolean> {
  return fetch(document.baseURI, { method: 'HEAD', cache: 'no-store' }).then(
    ({ ok }) => ok,
    () => false,
  );
}
