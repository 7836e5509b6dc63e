import type { Locator } from 'playwright-core';
import { expect, inject, it } from 'vitest';
import { readingOfTruth } from '../drawing/reading-of-truth.ts';
import type { EndRecord } from '../../web/state/end-record.ts';
import { DESK, sharedBrowser, visit } from './browser.ts';
import { fillEvening } from './fill-evening.ts';
import { placesOnScreen } from './open-reading.ts';
import { stored } from './stored.ts';

const ARCHERS = 12;
const PHOTOS_EACH = 5;
/** One photo of each archer lacks an arrow. */
const NEED_A_LOOK = 12;

/**
 * Seconds, by the keystroke-level model (S. K. Card, T. P. Moran, A. Newell, The keystroke-level model for
 * user performance time with interactive systems, Communications of the ACM 23, 1980, 396-410; values
 * from memory): to point at something, to press it, and to make up one's mind once.
 */
const SECONDS = { point: 1.1, press: 0.2, mind: 1.35 };

/**
 * What a coach does beside the reading, press by press:
 *   once: 1 "Evening", 2 choose the folder, 3 say that it is the right one, 4 keep all that need no look;
 *   for each of the others: 1 open it, 2 tap the arrow that was missed, 3 say what it is, 4 go to Keep,
 *   5 keep it, and the list is there again.
 */
it('takes a coach less than three minutes for twelve archers with five photos each', async () => {
  const { page, context, complaints } = await visit(await sharedBrowser(), inject('pageUrl'), DESK, { face: 'wa80' }); // prettier-ignore
  await fillEvening(page, inject('pageUrl'), { archers: ARCHERS, each: PHOTOS_EACH });
  // The first three presses lead to the photos, which were read meanwhile.
  let taps = 3;
  let decisions = 1;
  const tap = async (what: Locator) => {
    await what.click();
    taps++;
  };
  const rows = page.locator('.evening tbody tr');
  await expect.poll(() => rows.count()).toBe(ARCHERS * PHOTOS_EACH);
  await expect
    .poll(() => page.getByRole('status').allTextContents())
    .toContainEqual(expect.stringMatching(`^${NEED_A_LOOK} of 60 need a look$`));
  decisions++;
  await tap(page.getByRole('button', { name: 'Keep the 48 that need no look' }));
  await expect.poll(() => rows.count(), { timeout: 60_000 }).toBe(NEED_A_LOOK);
  const missed = readingOfTruth('fresh-02').reading.marks.find(({ id }) => id === 'm2')!;
  for (let left = NEED_A_LOOK; left > 0; left--) {
    decisions += 2;
    await tap(rows.first().getByRole('link'));
    const marks = page.locator('[data-mark]');
    await expect.poll(() => marks.count()).toBe(4);
    const at = (await placesOnScreen(page))(missed.px!);
    await page.mouse.click(at.x, at.y);
    taps++;
    await expect.poll(() => marks.count()).toBe(5);
    await tap(page.getByRole('group', { name: 'Tag this mark' }).getByRole('button', { name: 'Fletched' })); // prettier-ignore
    await tap(page.locator('.steps').getByRole('button', { name: 'Keep' }));
    await tap(page.locator('.panel-keep > .primary'));
    await expect.poll(() => rows.count()).toBe(left - 1);
  }
  const kept = await stored<EndRecord>(page, 'ends');
  expect(kept).toHaveLength(ARCHERS * PHOTOS_EACH);
  expect(kept.every(({ marks }) => marks!.length === 5)).toBe(true);
  expect(taps).toBe(4 + 5 * NEED_A_LOOK);
  const seconds = taps * (SECONDS.point + SECONDS.press) + decisions * SECONDS.mind;
  expect(seconds).toBeLessThan(180);
  expect(complaints).toEqual([]);
  await context.close();
});
