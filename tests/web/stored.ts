import type { Page } from 'playwright-core';

/** What the page has stored on one of its shelves, as it is at this moment. */
export function stored<T>(page: Page, shelf: 'drafts' | 'ends'): Promise<T[]> {
  return page.evaluate(
    (name) =>
      new Promise<T[]>((resolve, reject) => {
        const opening = indexedDB.open('endwise');
        opening.onerror = () => reject(new Error('no database'));
        opening.onsuccess = () => {
          const all = opening.result.transaction(name).objectStore(name).getAll();
          all.onerror = () => reject(new Error('not readable'));
          all.onsuccess = () => {
            opening.result.close();
            resolve(all.result as T[]);
          };
        };
      }),
    shelf,
  );
}

/** Makes the page forget that the log has its ends, as a crash before noting it does. */
export function resetSent(page: Page): Promise<void> {
  return page.evaluate(
    () =>
      new Promise<void>((resolve, reject) => {
        const opening = indexedDB.open('endwise');
        opening.onerror = () => reject(new Error('no database'));
        opening.onsuccess = () => {
          const store = opening.result.transaction('ends', 'readwrite').objectStore('ends');
          const all = store.getAll();
          all.onsuccess = () => {
            for (const kept of all.result as object[]) store.put({ ...kept, sentRevision: 0 });
          };
          store.transaction.oncomplete = () => {
            opening.result.close();
            resolve();
          };
        };
      }),
  );
}
