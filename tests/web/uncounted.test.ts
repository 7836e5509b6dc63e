import { expect, inject, it } from 'vitest';
import { PHONE, sharedBrowser, visit } from './browser.ts';
import { openReading, placeOf } from './open-reading.ts';
import { withEverything } from './walk.ts';

const SAID = { face: 'wa80', shaftMm: 8.1, distanceM: 50 };

it('shows what was seen and not counted, adds it by a second tap, and takes it back', async () => {
  const { context, page, complaints } = await visit(await sharedBrowser(), inject('pageUrl'), PHONE, SAID); // prettier-ignore
  await openReading(page, 'fresh-02', withEverything);
  const marks = page.locator('[data-mark]');
  const places = page.locator('[data-place]');
  const before = await marks.count();
  expect(await places.count()).toBe(1);
  expect(await places.getAttribute('aria-label')).toMatch(/^Not counted, 70 mm right, 100 mm low/);
  const at = await places.evaluate((place) => {
    const { left, top, width, height } = place.getBoundingClientRect();
    return { x: left + width / 2, y: top + height / 2 };
  });

  // The first tap says what it is, and changes nothing.
  await page.touchscreen.tap(at.x, at.y);
  await page.getByRole('button', { name: 'An arrow is here' }).waitFor();
  expect(await marks.count()).toBe(before);

  await page.touchscreen.tap(at.x, at.y);
  await expect.poll(() => marks.count()).toBe(before + 1);
  expect(await places.count()).toBe(0);
  const added = page.locator('.mark-selected');
  expect(await added.getAttribute('aria-label')).toMatch(/70 mm right, 100 mm low/);
  const id = (await added.getAttribute('data-mark'))!;
  const there = await placeOf(page, id);
  expect(Math.hypot(there.x - at.x, there.y - at.y)).toBeLessThan(1);

  // It moves as any mark does.
  await added.focus();
  await page.keyboard.press('Shift+ArrowRight');
  await expect.poll(async () => (await placeOf(page, id)).x).toBeGreaterThan(at.x + 1);
  const undo = page.getByRole('toolbar').getByRole('button', { name: 'Undo' });
  await undo.tap();
  await undo.tap();
  await expect.poll(() => marks.count()).toBe(before);
  expect(await places.count()).toBe(1);

  // By keyboard too: the focus says what it is, Enter adds it and stays on it.
  await places.focus();
  await page.keyboard.press('Enter');
  await expect.poll(() => marks.count()).toBe(before + 1);
  await expect
    .poll(() => page.evaluate(() => document.activeElement?.getAttribute('data-mark')))
    .toBe(id);
  expect(complaints).toEqual([]);
  await context.close();
});
