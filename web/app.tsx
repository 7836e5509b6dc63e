import type { PlainText } from '../src/words/words.ts';
import { notice } from './state/announce.ts';
import { hashOf, route, type Page } from './state/route.ts';
import { theme, THEMES, type Theme } from './state/theme.ts';
import { HomePage } from './pages/home-page.tsx';
import { lazy, type LazyPage } from './pages/lazy.tsx';
import { say } from './state/words.ts';

const LAZY = {
  kept: lazy(async () => (await import('./pages/kept-page.tsx')).KeptPage),
  'set-ups': lazy(async () => (await import('./pages/set-ups-page.tsx')).SetUpsPage),
  trends: lazy(async () => (await import('./pages/trends-page.tsx')).TrendsPage),
  evening: lazy(async () => (await import('./pages/evening-page.tsx')).EveningPage),
  end: lazy(async () => {
    const { EndPage } = await import('./pages/end-page.tsx');
    // Who keeps this end at the boss may have lost the network by then.
    void LAZY.kept.prepare();
    void LAZY['set-ups'].prepare();
    return EndPage;
  }),
} satisfies Record<Exclude<Page, 'home'>, LazyPage>;

const LINKS: readonly (readonly [Page, PlainText])[] = [
  ['home', 'New#end'],
  ['kept', 'Kept#ends'],
  ['set-ups', 'Set-ups'],
  ['trends', 'Trends#nav'],
  ['evening', 'Evening'],
];

const THEME_NAMES: Readonly<Record<Theme, PlainText>> = {
  system: 'Like the device',
  light: 'Light#theme',
  dark: 'Dark#theme',
  daylight: 'Daylight, high contrast',
};

export function App() {
  const { page } = route.value;
  return (
    <>
      <header class="top">
        <a class="wordmark" href={hashOf('home')} aria-label={say('endwise, start')}>
          <svg viewBox="0 0 32 32" aria-hidden>
            <circle cx="11" cy="20" r="4" />
            <path d="M11 16V8M14.5 22l6 3.5M7.5 22l-5 3" />
            <circle class="wordmark-bare" cx="23" cy="10" r="5.5" />
          </svg>
          <span>endwise</span>
        </a>
        <nav aria-label={say('Pages')}>
          {LINKS.map(([name, words]) => (
            <a
              key={name}
              class={`to-${name}`}
              href={hashOf(name)}
              aria-current={page === name ? 'page' : undefined}
            >
              {say(words)}
            </a>
          ))}
        </nav>
        <label class="theme">
          <span class="visually-hidden">{say('Colours')}</span>
          <select
            value={theme.value}
            onChange={(event) => (theme.value = event.currentTarget.value as Theme)}
          >
            {THEMES.map((name) => (
              <option key={name} value={name}>
                {say(THEME_NAMES[name])}
              </option>
            ))}
          </select>
        </label>
      </header>
      <PageOf page={page} />
      <Notice />
    </>
  );
}

function PageOf({ page }: { page: Page }) {
  if (page === 'home') return <HomePage />;
  const { Page } = LAZY[page];
  return <Page key={page} />;
}

function Notice() {
  const now = notice.value;
  return (
    <div class="notice" role="status">
      {now && (
        <p>
          <span>{now.text}</span>
          {now.action && (
            <button
              type="button"
              onClick={() => {
                now.action!.run();
                notice.value = null;
              }}
            >
              {now.action.label}
            </button>
          )}
        </p>
      )}
    </div>
  );
}
