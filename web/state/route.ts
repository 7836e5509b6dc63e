import { signal } from '@preact/signals';

export const PAGES = ['home', 'end', 'kept', 'set-ups', 'trends', 'evening'] as const;
export type Page = (typeof PAGES)[number];

export interface Route {
  readonly page: Page;
  /** What follows the page's name: an end's or a bow's id. */
  readonly id: string | null;
}

function parse(hash: string): Route {
  const [name = '', id] = hash.replace(/^#\/?/, '').split('/');
  const page = PAGES.find((candidate) => candidate === name) ?? 'home';
  return { page, id: id ? decodeURIComponent(id) : null };
}

export const route = signal<Route>(parse(location.hash));

addEventListener('hashchange', () => {
  route.value = parse(location.hash);
});

export function hashOf(page: Page, id?: string): string {
  if (page === 'home') return '#/';
  return id === undefined ? `#/${page}` : `#/${page}/${encodeURIComponent(id)}`;
}

export function goTo(page: Page, id?: string): void {
  location.hash = hashOf(page, id);
}
