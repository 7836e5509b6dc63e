import sharp from 'sharp';
import type { Page, Route } from 'playwright-core';
import { expect, inject, it, vi } from 'vitest';
import type { Reading } from '../../src/reading/reading.ts';
import { expectGolden } from '../golden/expect-golden.ts';
import { DESK, PHONE, sharedBrowser, testImage, visit } from './browser.ts';
import { goToStep, openReading } from './open-reading.ts';

const url = inject('pageUrl');
const ABOUT = { face: 'wa80', shaftMm: 8.1, distanceM: 50, fletched: 3, bare: 2 };

/**
 * Compares what is on the screen with its golden picture, at half its size: what one machine's font
 * rasteriser does otherwise than another's is gone then, what is not where it was is not. A screen
 * that does not look so yet is given a moment: a busy machine decodes a photo after it is shown.
 */
async function expectLook(page: Page, name: string): Promise<void> {
  await page.evaluate(() => document.fonts.ready);
  // Notices go by themselves; one that stands is no part of a state.
  await page.locator('.notice p').waitFor({ state: 'detached' });
  const look = async () => {
    const screen = sharp(await page.screenshot({ animations: 'disabled', caret: 'hide' }));
    const { width } = await screen.metadata();
    const half = await screen
      .resize({ width: width / 2, kernel: 'lanczos3' })
      .png()
      .toBuffer();
    // The browser's own driver pins hinting and colour profile; what is left differs in single pixels.
    expectGolden(half, `page-${name}`, { share: 0.002 });
  };
  await vi.waitFor(look, { timeout: 30_000, interval: 100 });
}

/** A bow of which this end says nothing: bare shafts lie among the fletched ones. */
function undecided(reading: Reading): Reading {
  const kinds: Record<string, 'fletched' | 'bare'> = { m4: 'fletched', m2: 'bare' };
  return {
    ...reading,
    marks: reading.marks.map((mark) => ({ ...mark, kind: kinds[mark.id] ?? mark.kind })),
  };
}

it('never scrolls the photo of an end out of sight, on a phone or a desktop', async () => {
  for (const device of [PHONE, DESK]) {
    const { context, page } = await visit(await sharedBrowser(), url, device, ABOUT);
    await openReading(page, 'fresh-02');
    for (const step of ['Look', 'Tag', 'Verdict', 'Keep'] as const) {
      await goToStep(page, step);
      const beyond = () =>
        page.evaluate(() => document.documentElement.scrollHeight - window.innerHeight);
      await expect.poll(beyond).toBeLessThanOrEqual(0);
    }
    await context.close();
  }
});

it('shows the photo in its new place in the frame in which its stage changes', async () => {
  const { context, page } = await visit(await sharedBrowser(), url, PHONE, ABOUT);
  await openReading(page, 'fresh-02');
  const photo = page.locator('.stage-photo');
  await expect.poll(() => photo.evaluate((image) => image.style.visibility)).toBe('visible');
  const before = await photo.evaluate((image) => image.style.transform);
  // Observers are called in the order of their making, all of them before the frame is painted.
  await page.evaluate(() => {
    const image = document.querySelector<HTMLElement>('.stage-photo')!;
    const seen: { transform: string; windowHeight: number }[] = [];
    new ResizeObserver(() => {
      seen.push({ transform: image.style.transform, windowHeight: innerHeight });
    }).observe(document.querySelector('.stage')!);
    Object.assign(window, { seen });
  });
  const { width, height } = page.viewportSize()!;
  await page.setViewportSize({ width, height: height - 200 });
  type Seen = { seen: { transform: string; windowHeight: number }[] };
  const lastHeight = () =>
    page.evaluate(() => (window as unknown as Seen).seen.at(-1)?.windowHeight);
  await expect.poll(lastHeight).toBe(height - 200);
  // Some frames later, in one look: a font that comes late changes the stage once more, at any time.
  const { atOnce, settled } = await page.evaluate(async () => {
    await document.fonts.ready;
    await new Promise((resolve) => setTimeout(resolve, 250));
    return {
      atOnce: (window as unknown as Seen).seen.at(-1)!.transform,
      settled: document.querySelector<HTMLElement>('.stage-photo')!.style.transform,
    };
  });
  expect(atOnce).not.toBe(before);
  expect(settled).toBe(atOnce);
  await context.close();
});

it('looks on a phone as it did: empty, working, failed, read, verdict, undecided', async () => {
  const { context, page } = await visit(
    await sharedBrowser(),
    url,
    {
      ...PHONE,
      deviceScaleFactor: 1,
    },
    ABOUT,
  );
  let vision: (route: Route) => unknown = () => undefined;
  await page.route('**/vision/**', (route) => vision(route));
  await expectLook(page, 'phone-empty');

  // The reader never arrives; then it cannot be had.
  await page.locator('input[type=file][multiple]').setInputFiles(testImage('fresh-02.jpg'));
  await page.locator('.working').waitFor();
  const photo = page.locator('.stage-photo');
  const photoShown = () =>
    expect.poll(() => photo.evaluate((image) => image.style.visibility)).toBe('visible');
  await photoShown();
  await expectLook(page, 'phone-working');
  vision = (route) => route.abort();
  await page.getByRole('button', { name: 'Cancel' }).click();
  await page.getByRole('button', { name: 'Read it again' }).click();
  await page.getByRole('heading', { name: 'This photo was not read' }).waitFor();
  await photoShown();
  await expectLook(page, 'phone-failed');
  await page.getByRole('button', { name: 'Take another photo' }).click();

  await openReading(page, 'fresh-02');
  await expectLook(page, 'phone-read');
  await goToStep(page, 'Verdict');
  await expect.poll(() => page.locator('.verdict-head').textContent()).toMatch(/low/);
  await expectLook(page, 'phone-verdict');
  await page.goto(`${url}#/`);
  await openReading(page, 'fresh-02', undecided);
  await goToStep(page, 'Verdict');
  await expect.poll(() => page.locator('.verdict-head').textContent()).toMatch(/Undecided/);
  await expectLook(page, 'phone-undecided');
  await context.close();
});

it('looks on a desktop as it did: empty, read', async () => {
  const { context, page } = await visit(await sharedBrowser(), url, DESK, ABOUT);
  await expectLook(page, 'desk-empty');
  await openReading(page, 'fresh-02');
  await expectLook(page, 'desk-read');
  await context.close();
});
