import type { Locator, Page } from 'playwright-core';
import { randomUUID } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, inject } from 'vitest';
import { readingOfTruth } from '../drawing/reading-of-truth.ts';
import type { Reading } from '../../src/reading/reading.ts';
import { testImage } from './browser.ts';

/** Opens a test photo with its perfect reading, or one made of it: it needs no vision. */
export async function openReading(
  page: Page,
  name: string,
  madeOf: (reading: Reading) => Reading = (reading) => reading,
): Promise<void> {
  // As files of the disk: what is handed to the browser as bytes takes it longer than the page does.
  const readingFile = join(inject('pageFolder'), `${randomUUID()}.json`);
  writeFileSync(readingFile, JSON.stringify(madeOf(readingOfTruth(name).reading)));
  await page
    .locator('input[type=file][multiple]')
    .setInputFiles([testImage(`${name}.jpg`), readingFile]);
  await page.locator('[data-mark]').first().waitFor();
}

/** Presses a step's button and waits until the page is there. */
export async function goToStep(
  page: Page,
  name: 'Look' | 'Tag' | 'Verdict' | 'Keep',
): Promise<void> {
  const button = page.locator('.steps').getByRole('button', { name });
  await button.click();
  await page.locator('.steps [aria-current=step]', { hasText: name }).waitFor();
}

/** Says that a right-handed archer shoots, where that is asked. */
export async function sayHand(where: Page | Locator): Promise<void> {
  // The radio button itself is out of sight, beside its label's words.
  await where.locator('label', { hasText: 'right-handed' }).click();
}

/** Where a mark is on the screen. */
export async function placeOf(page: Page, mark: string): Promise<{ x: number; y: number }> {
  const at = await page.locator(`[data-mark="${mark}"]`).evaluate((element) => {
    const svg = (element as SVGGElement).ownerSVGElement!.getBoundingClientRect();
    const [, x, y] = /translate\(([-\d.]+) ([-\d.]+)\)/.exec(element.getAttribute('transform')!)!;
    return { x: svg.left + Number(x), y: svg.top + Number(y) };
  });
  return at;
}

/** Where places of the photo are on the screen, as the photo lies now. */
export async function placesOnScreen(
  page: Page,
): Promise<(px: readonly [number, number]) => { x: number; y: number }> {
  const { left, top, scale } = await page.locator('.stage-photo').evaluate((image) => {
    const box = image.getBoundingClientRect();
    return { ...box.toJSON(), scale: box.width / (image as HTMLImageElement).naturalWidth } as {
      left: number;
      top: number;
      scale: number;
    };
  });
  return ([x, y]) => ({ x: left + x * scale, y: top + y * scale });
}

/** Shows the whole face in place of the part where the arrows are. */
export async function showWholeFace(page: Page): Promise<void> {
  const lies = () => page.locator('.stage-photo').getAttribute('style');
  const before = await lies();
  await page.getByRole('button', { name: 'Show the arrows or the whole face' }).click();
  await expect.poll(lies).not.toBe(before);
}
