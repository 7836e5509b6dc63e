import type { Locator, Page } from 'playwright-core';
import sharp from 'sharp';
import { expect, inject, it } from 'vitest';
import { readingOfTruth } from '../drawing/reading-of-truth.ts';
import { SETTINGS_AT_FIRST } from '../../web/state/settings-at-first.ts';
import type { EndRecord } from '../../web/state/end-record.ts';
import { DESK, sharedBrowser, testImage, visit } from './browser.ts';
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
  await fillEvening(page);
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

/** The evening as the page has it once all its photos were read. */
async function fillEvening(page: Page): Promise<void> {
  const { reading } = readingOfTruth('fresh-02');
  const photo = await sharp(testImage('fresh-02.jpg')).jpeg({ quality: 20 }).toBuffer();
  const record: Omit<EndRecord, 'id' | 'createdAt'> = {
    photoName: '1.jpg',
    settings: { ...SETTINGS_AT_FIRST, face: 'wa80', distanceM: 50 },
    focalPx: null,
    reading,
    marks: [...reading.marks],
    byHand: null,
    pick: null,
    step: 'look',
    tagsConfirmed: true,
    note: '',
  };
  await page.evaluate(
    async ({ record, photo, archers, each }) => {
      const blob = await (await fetch(`data:image/jpeg;base64,${photo}`)).blob();
      const places: { id: string; path: string }[] = [];
      await new Promise<void>((resolve, reject) => {
        const opening = indexedDB.open('endwise');
        opening.onerror = () => reject(new Error('no database'));
        opening.onsuccess = () => {
          const write = opening.result.transaction(['drafts', 'photos'], 'readwrite');
          for (let n = 0; n < archers * each; n++) {
            const archer = `Archer ${1 + Math.floor(n / each)}`;
            const id = `end-${n}`;
            const marks = n % each === 0 ? record.marks!.filter((mark) => mark.id !== 'm2') : record.marks; // prettier-ignore
            write.objectStore('drafts').put({
              ...record,
              id,
              createdAt: new Date(Date.UTC(2031, 4, 4, 18, n)).toISOString(),
              settings: { ...record.settings, archer },
              marks,
            });
            write.objectStore('photos').put(blob, id);
            const about = { bow: '', session: 1, end: 1 + (n % each), takenAt: null };
            places.push({ id, path: `${archer}/${1 + (n % each)}.jpg`, ...about });
          }
          write.oncomplete = () => {
            opening.result.close();
            resolve();
          };
        };
      });
      localStorage.setItem('endwise.evening', JSON.stringify(places));
      sessionStorage.setItem('endwise.open', JSON.stringify(places.map(({ id }) => id)));
    },
    { record, photo: photo.toString('base64'), archers: ARCHERS, each: PHOTOS_EACH },
  );
  await page.goto(`${inject('pageUrl')}#/evening`);
  await page.reload();
}
