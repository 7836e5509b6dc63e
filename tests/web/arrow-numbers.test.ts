import type { Page } from 'playwright-core';
import axe from 'axe-core';
import { beforeAll, expect, inject, it } from 'vitest';
import type { KeptEnd } from '../../web/store/database.ts';
import { chance } from '../simulation/virtual-archer.ts';
import { PHONE, sharedBrowser, visit, type Opened } from './browser.ts';
import { goToStep, openReading, placeOf } from './open-reading.ts';
import { stored } from './stored.ts';

const ABOUT = { face: 'wa80', shaftMm: 8.1, distanceM: 50, fletched: 3, bare: 2 };

let opened: Opened;
beforeAll(async () => {
  opened = await visit(await sharedBrowser(), inject('pageUrl'), PHONE, ABOUT);
});

it('numbers a mark by two taps, is corrected after it was kept, and shows where arrows land', async () => {
  const { page, complaints } = opened;
  await openReading(page, 'fresh-02');
  const number = (name: string) =>
    page.getByRole('group', { name: 'Number on the shaft' }).getByRole('button', { name, exact: true }); // prettier-ignore
  const numberOf = (mark: string) => page.locator(`[data-mark="${mark}"] .mark-number`).textContent(); // prettier-ignore
  await goToStep(page, 'Look');
  const given = [
    ['m2', '7'],
    ['m5', '11'],
    ['m3', '2'],
  ] as const;
  for (const [mark, name] of given) {
    const at = await placeOf(page, mark);
    await page.touchscreen.tap(at.x, at.y);
    await number(name).tap();
    await expect.poll(() => numberOf(mark)).toBe(`(${name})`);
  }
  await page.locator('.numbers').scrollIntoViewIfNeeded();
  // The same number on another fletched mark: an end has each arrow once.
  await number('7').tap();
  await expect.poll(() => numberOf('m3')).toBe('(7)');
  await expect.poll(() => page.locator('[data-mark="m2"] .mark-number').count()).toBe(0);
  await page.getByRole('toolbar').getByRole('button', { name: 'Undo' }).tap();
  await expect.poll(() => numberOf('m2')).toBe('(7)');
  await page.getByRole('button', { name: 'Other', exact: true }).tap();
  await page.getByRole('textbox', { name: 'Number on the shaft' }).fill('seven');
  await page.getByRole('button', { name: 'Set' }).tap();
  await page.getByText('The number of an arrow is like 7, 12 or 3B.').waitFor();
  await page.getByRole('textbox', { name: 'Number on the shaft' }).fill('03b');
  await page.getByRole('button', { name: 'Set' }).tap();
  await expect.poll(() => numberOf('m3')).toBe('(3B)');
  expect(await findings(page)).toEqual([]);

  await goToStep(page, 'Keep');
  await page.locator('.panel-keep .button.primary').tap();
  const numbers = async () =>
    (await stored<KeptEnd>(page, 'ends'))[0]?.reading.marks.map((mark) => mark.arrowNumber ?? null);
  await expect.poll(numbers).toEqual([null, '7', '3B', null, '11']);

  await page.getByRole('link', { name: /^Correct/ }).tap();
  await goToStep(page, 'Look');
  const at = await placeOf(page, 'm5');
  await page.touchscreen.tap(at.x, at.y);
  await number('11').tap();
  await goToStep(page, 'Keep');
  await page.locator('.panel-keep .button.primary').tap();
  await expect.poll(numbers).toEqual([null, '7', '3B', null, null]);

  // Twelve ends of three numbered arrows, of which 7 lands 120 mm to the left of the others.
  await keepMore(page, 12);
  await page.goto(`${inject('pageUrl')}#/trends`);
  const section = page.getByRole('region', { name: 'Arrow by arrow, Bow' });
  await expect.poll(() => section.textContent()).toMatch(/Arrow 7 lands apart: \d+ mm left/);
  await expect.poll(() => section.textContent()).toMatch(/look for cracks, flex a carbon shaft/);
  await expect.poll(() => section.locator('tbody tr').count()).toBe(3);
  await expect.poll(() => section.locator('svg').getAttribute('aria-label')).toMatch(/7 apart/);
  for (const size of [{ width: 320, height: 640 }, { width: 844, height: 390 }, PHONE.viewport!]) {
    await page.setViewportSize(size);
    const wider = () => page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    await expect.poll(wider).toBeLessThanOrEqual(0);
  }
  expect(await findings(page)).toEqual([]);
  expect(complaints).toEqual([]);
});

it('scores by the rule that was chosen', async () => {
  const about = { ...ABOUT, scoring: 'five-zones' };
  const { page, context } = await visit(await sharedBrowser(), inject('pageUrl'), PHONE, about);
  await openReading(page, 'fresh-02');
  const values = await page.locator('.mark-value').allTextContents();
  expect(values.every((value) => ['9', '7', '5', '3', '1', 'M'].includes(value.trim()))).toBe(true);
  const total = values.reduce((sum, value) => sum + (Number(value) || 0), 0);
  await expect.poll(() => page.locator('.score-total strong').textContent()).toBe(String(total));
  await context.close();
});

/** What axe finds on the page as it stands. */
async function findings(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  return page.evaluate(async () => {
    const { violations } = await (window as unknown as { axe: typeof axe }).axe.run();
    return violations.map(({ id }) => id);
  });
}

/** Puts ends like the kept one on its shelf. */
async function keepMore(page: Page, count: number): Promise<void> {
  const [kept] = await stored<KeptEnd>(page, 'ends');
  const { normal } = chance(3);
  const more = Array.from({ length: count }, (_, i) => {
    const placed = (mark: KeptEnd['reading']['marks'][number], k: number) => ({
      ...mark,
      arrowNumber: [undefined, '7', '3B', undefined, '11'][k],
      mm: [30 * normal() + (k === 1 ? -120 : 0), 30 * normal()] as const,
    });
    return {
      ...kept!,
      id: `more-${i}`,
      createdAt: `2031-06-${String(i + 10)}T10:00:00.000Z`,
      reading: { ...kept!.reading, marks: kept!.reading.marks.map(placed) },
    };
  });
  await page.evaluate(
    (ends) =>
      new Promise<void>((resolve, reject) => {
        const opening = indexedDB.open('endwise');
        opening.onerror = () => reject(new Error('no database'));
        opening.onsuccess = () => {
          const store = opening.result.transaction('ends', 'readwrite').objectStore('ends');
          for (const end of ends) store.put(end);
          store.transaction.oncomplete = () => {
            opening.result.close();
            resolve();
          };
        };
      }),
    more,
  );
}
