import type { Page } from 'playwright-core';
import { readFileSync } from 'node:fs';
import { readingOfTruth } from '../drawing/reading-of-truth.ts';
import { testImage } from './browser.ts';

/** Opens a test photo with its perfect reading, so that a test of the page needs no vision. */
export async function openReading(page: Page, name: string): Promise<void> {
  await page.locator('input[type=file][multiple]').setInputFiles([
    {
      name: `${name}.jpg`,
      mimeType: 'image/jpeg',
      buffer: readFileSync(testImage(`${name}.jpg`)),
    },
    {
      name: `${name}.json`,
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(readingOfTruth(name).reading)),
    },
  ]);
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

/** Where a mark is on the screen. */
export async function placeOf(page: Page, mark: string): Promise<{ x: number; y: number }> {
  const at = await page.locator(`[data-mark="${mark}"]`).evaluate((element) => {
    const svg = (element as SVGGElement).ownerSVGElement!.getBoundingClientRect();
    const [, x, y] = /translate\(([-\d.]+) ([-\d.]+)\)/.exec(element.getAttribute('transform')!)!;
    return { x: svg.left + Number(x), y: svg.top + Number(y) };
  });
  return at;
}
