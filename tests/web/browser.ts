import {
  chromium,
  type Browser,
  type BrowserContext,
  type BrowserContextOptions,
  type CDPSession,
  type Page,
} from 'playwright-core';
import { fileURLToPath } from 'node:url';
import { SETTINGS_AT_FIRST, type Settings } from '../../web/state/settings-at-first.ts';
import { findBrowser } from './find-browser.ts';

export const PHONE: BrowserContextOptions = {
  viewport: { width: 390, height: 844 },
  deviceScaleFactor: 2,
  hasTouch: true,
  isMobile: true,
};
export const DESK: BrowserContextOptions = { viewport: { width: 1280, height: 800 } };

/**
 * An address (RFC 5737) that leads to this machine in the browser of the tests, and there alone: a page
 * from it is as little trusted as one from another machine over plain HTTP.
 */
export const ELSEWHERE = '192.0.2.10';

let launched: Promise<Browser> | undefined;

/** The one browser of all tests of the page: they run in one process, which ends it at its exit. */
export function sharedBrowser(): Promise<Browser> {
  launched ??= launch();
  return launched;
}

async function launch(): Promise<Browser> {
  const executablePath = await findBrowser();
  if (executablePath === null) throw new Error('There is no browser to test the page in.');
  return chromium.launch({
    executablePath,
    args: [
      '--no-sandbox',
      '--disable-quic',
      '--disable-background-networking',
      // As browsers with windows do.
      '--font-render-hinting=slight',
      `--host-resolver-rules=MAP ${ELSEWHERE} 127.0.0.1`,
    ],
  });
}

export interface Opened {
  readonly context: BrowserContext;
  readonly page: Page;
  /** What the page complained about; a test that is done should find it empty. */
  readonly complaints: string[];
}

/**
 * A fresh visitor on the page, in English and at a fixed hour's zone.
 *
 * @param said What the archer said before. Nothing is handed to the server's log then: the log takes
 * a photo only once, and many tests use the same.
 */
export async function visit(
  browser: Browser,
  url: string,
  options: BrowserContextOptions,
  said?: Partial<Record<keyof Settings, unknown>>,
): Promise<Opened> {
  const context = await browser.newContext({
    locale: 'en-GB',
    timezoneId: 'Europe/Berlin',
    reducedMotion: 'reduce',
    serviceWorkers: 'block',
    ...options,
  });
  if (said) await context.addInitScript(remember, remembered(url, said));
  // Beside other work the browser answers late, not never.
  context.setDefaultTimeout(60_000);
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(url);
  await page.getByRole('heading', { level: 1 }).waitFor();
  return { context, page, complaints };
}

interface Remembered {
  readonly origin: string;
  readonly entries: readonly (readonly [name: string, value: string])[];
}

/** An archer's usual end, as they said it once. */
export const SAID_BEFORE = { archer: 'Juna Feldweg', hand: 'right', fletched: 3, bare: 2 } as const;

function remembered(url: string, said: Partial<Record<keyof Settings, unknown>>): Remembered {
  return {
    origin: new URL(url).origin,
    entries: [
      ['endwise.settings', JSON.stringify({ ...SETTINGS_AT_FIRST, ...SAID_BEFORE, ...said })],
      ['endwise.hand-over', '"off"'],
    ],
  };
}

/** Runs in every page before its own code: only the first one finds nothing remembered. */
function remember({ origin, entries }: Remembered): void {
  if (location.origin !== origin) return;
  for (const [name, value] of entries) {
    if (localStorage.getItem(name) === null) localStorage.setItem(name, value);
  }
}

export function testImage(name: string): string {
  return fileURLToPath(new URL(`../../test-images/${name}`, import.meta.url));
}

interface OnPage {
  readonly x: number;
  readonly y: number;
}

/** Moves one finger from a point of the page to another. */
export async function dragByTouch(cdp: CDPSession, from: OnPage, to: OnPage): Promise<void> {
  await moveFingers(cdp, [{ from, to }]);
}

/** Puts fingers down one after another, moves them together, and takes them up. */
export async function moveFingers(
  cdp: CDPSession,
  fingers: readonly { readonly from: OnPage; readonly to: OnPage }[],
): Promise<void> {
  const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', points: readonly OnPage[]) =>
    cdp.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: points.map(({ x, y }, id) => ({ x, y, id })),
    });
  for (let down = 1; down <= fingers.length; down++) {
    await touch(
      'touchStart',
      fingers.slice(0, down).map(({ from }) => from),
    );
  }
  for (let i = 1; i <= 10; i++) {
    await touch(
      'touchMove',
      fingers.map(({ from, to }) => ({
        x: from.x + ((to.x - from.x) * i) / 10,
        y: from.y + ((to.y - from.y) * i) / 10,
      })),
    );
  }
  await touch('touchEnd', []);
}
