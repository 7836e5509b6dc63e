import { signal } from '@preact/signals';
import type { ComponentType } from 'preact';

/** A page whose code is fetched when it is first shown. */
export function lazy(load: () => Promise<ComponentType>): ComponentType {
  const loaded = signal<ComponentType | null>(null);
  const failed = signal(false);
  let loading: Promise<void> | undefined;
  return function Lazy() {
    loading ??= load().then(
      (page) => {
        loaded.value = page;
      },
      () => {
        failed.value = true;
        loading = undefined;
      },
    );
    const Page = loaded.value;
    if (Page) return <Page />;
    return (
      <main class="page" aria-busy={!failed.value}>
        {failed.value && <p>This part of the page could not be loaded. Connect once and reload.</p>}
      </main>
    );
  };
}
