import type { Page } from 'playwright-core';
import { DESK, PHONE, sharedBrowser, testImage, visit } from '../web/browser.ts';
import serveBuiltPage from '../web/serve-built-page.ts';

/** As phones take them: 3000 x 4000 pixels. */
const PHOTO = 'fresh-07.jpg';
const RUNS = 3;
/** A person finds a photo in the gallery in no less, and takes one in more. */
const CHOOSING_MS = 3000;

interface Times {
  /** From the photo chosen to rings and marks on the screen, ms. */
  readonly drawnMs: number;
  /** From the photo chosen to the photo itself on the screen, ms. */
  readonly photoMs: number;
  /** How long each stage stood on the screen, ms. */
  readonly stagesMs: Record<string, number>;
}

/**
 * Time in the browser from a photo chosen to rings and marks drawn, for a photo of 12 MP: on the
 * first photo of a visit, handed over by a machine or chosen by a person in the time that this
 * takes, and on later ones.
 */
export async function pageBench(): Promise<void> {
  let url = '';
  const close = await serveBuiltPage({
    provide: (_key: string, value: string) => (url = value),
  } as unknown as Parameters<typeof serveBuiltPage>[0]);
  const browser = await sharedBrowser();
  for (const [name, device] of Object.entries({ phone: PHONE, desk: DESK })) {
    const bytes = testImage(PHOTO);
    const arrive = () => visit(browser, url, device, { face: 'wa80', shaftMm: 5.8 });
    const measure = async (page: Page, choosingMs = 0): Promise<Times> => {
      // The runner's compiler wraps named functions in a helper that the page does not have.
      await page.evaluate('window.__name = (fn) => fn');
      await page.evaluate(() => {
        const seen: [string, number][] = [];
        const started = performance.now();
        const state = { photo: 0, drawn: 0, seen, started };
        (window as unknown as { timing: typeof state }).timing = state;
        const look = () => {
          const now = performance.now();
          const image = document.querySelector<HTMLImageElement>('.stage-photo');
          if (!state.photo && image?.complete && image.style.visibility === 'visible') {
            state.photo = now;
          }
          const stage = document.querySelector('.stages [aria-current]')?.textContent ?? '';
          if (stage && seen.at(-1)?.[0] !== stage) seen.push([stage, now]);
          if (document.querySelector('[data-mark]') && document.querySelector('.rings-line')) {
            state.drawn = now;
            return;
          }
          requestAnimationFrame(look);
        };
        document
          .querySelector('input[type=file][multiple]')!
          .addEventListener('change', () => ((state.started = performance.now()), look()), {
            once: true,
            capture: true,
          });
      });
      const choosing = page.waitForEvent('filechooser');
      await page.getByText('Choose photos').click();
      const chooser = await choosing;
      await page.waitForTimeout(choosingMs);
      await chooser.setFiles(bytes);
      await page.waitForFunction(
        () => (window as unknown as { timing: { drawn: number } }).timing.drawn > 0,
        null,
        { timeout: 120_000 },
      );
      const { photo, drawn, seen, started } = await page.evaluate(
        () =>
          (
            window as unknown as {
              timing: { photo: number; drawn: number; started: number; seen: [string, number][] };
            }
          ).timing,
      );
      const until = [...seen.slice(1).map(([, at]) => at), drawn];
      return {
        drawnMs: drawn - started,
        photoMs: photo - started,
        stagesMs: Object.fromEntries(seen.map(([stage, at], i) => [stage, until[i]! - at])),
      };
    };
    const { context, page } = await arrive();
    const first = await measure(page);
    const later: Times[] = [];
    for (let i = 0; i < RUNS; i++) {
      await page.goto(`${url}#/`);
      await page.getByRole('heading', { level: 1 }).waitFor();
      later.push(await measure(page));
    }
    later.sort((a, b) => a.drawnMs - b.drawnMs);
    await context.close();
    const person = await arrive();
    const chosen = await measure(person.page, CHOOSING_MS);
    await person.context.close();
    print(`${name}, first photo of a visit, at once`, first);
    print(`${name}, first photo of a visit, chosen in ${CHOOSING_MS / 1000} s`, chosen);
    print(`${name}, later photos, the quickest of ${RUNS}`, later[0]!);
  }
  await browser.close();
  await close();
}

function print(name: string, { drawnMs, photoMs, stagesMs }: Times): void {
  console.log(`${name}: rings and marks drawn after ${(drawnMs / 1000).toFixed(2)} s`);
  const stages = Object.entries(stagesMs).map(([stage, ms]) => `${stage} ${Math.round(ms)} ms`);
  console.log(`  photo shown after ${Math.round(photoMs)} ms; ${stages.join(', ')}`);
}
