import type { Page } from 'playwright-core';
import { readFileSync } from 'node:fs';
import { expect, inject, it } from 'vitest';
import { SETTINGS_AT_FIRST } from '../../web/state/settings-at-first.ts';
import { readingOfTruth } from '../drawing/reading-of-truth.ts';
import { PHONE, sharedBrowser, testImage, visit } from './browser.ts';
import { stored } from './stored.ts';

const url = inject('pageUrl');

interface Shelved {
  readonly id: string;
}

/** A kept end as the first versions of the page stored it. */
function storedEnd(id: string, distanceM: number | null) {
  const { reading } = readingOfTruth('fresh-02');
  // The set-up in use came later.
  const settings: Partial<typeof SETTINGS_AT_FIRST> = { ...SETTINGS_AT_FIRST };
  delete settings.setUpId;
  return {
    id,
    createdAt: '2031-05-04T16:00:00.000Z',
    photoName: 'fresh-02.jpg',
    settings: { ...settings, archer: 'Ilka Brandt', face: 'wa80', distanceM, hand: 'right' },
    focalPx: null,
    reading,
    marks: reading.marks,
    byHand: null,
    step: 'verdict',
    tagsConfirmed: true,
    note: 'from before',
    keptAt: '2031-05-04T16:05:00.000Z',
    revision: 2,
    sentRevision: 2,
  };
}

const BOW = {
  id: 'b1',
  archerId: 'Ilka Brandt',
  name: 'The blue one',
  hand: 'right',
  adjusters: [],
  notes: '',
};
const SET_UP = {
  id: 's1',
  bowId: 'b1',
  name: 'First',
  date: '2031-05-01T10:00:00.000Z',
  settings: {},
  preferredMrad: [0, 0],
  notes: 'as bought',
};

/** Fills the browser's store as a page of an earlier endwise left it. */
async function leave(page: Page, version: number, ends: readonly Shelved[]): Promise<void> {
  const photo = readFileSync(testImage('fresh-02.jpg')).toString('base64');
  await page.goto(`${url}icon.svg`);
  await page.evaluate(
    async ([now, rows, bow, setUp, bytes]) => {
      const blob = await (await fetch(`data:image/jpeg;base64,${bytes}`)).blob();
      await new Promise<void>((resolve, reject) => {
        const opening = indexedDB.open('endwise', now);
        opening.onupgradeneeded = () => {
          const db = opening.result;
          for (const shelf of ['drafts', 'ends', 'bows']) {
            db.createObjectStore(shelf, { keyPath: 'id' });
          }
          db.createObjectStore('photos');
          db.createObjectStore('setUps', { keyPath: 'id' }).createIndex('bowId', 'bowId');
          if (now >= 3) db.createObjectStore('deleted', { keyPath: 'id' });
        };
        opening.onerror = () => reject(new Error('not opened'));
        opening.onsuccess = () => {
          const db = opening.result;
          const shelves = ['ends', 'bows', 'setUps', 'photos'];
          const write = db.transaction(shelves, 'readwrite');
          for (const row of rows) {
            write.objectStore('ends').put(row);
            write.objectStore('photos').put(blob, row.id);
          }
          write.objectStore('bows').put(bow);
          write.objectStore('setUps').put(setUp);
          write.onerror = () => reject(new Error('not written'));
          write.oncomplete = () => {
            db.close();
            resolve();
          };
        };
      });
    },
    [version, ends, BOW, SET_UP, photo] as const,
  );
}

interface Kept extends Shelved {
  readonly revision: number;
  readonly sentRevision: number;
  readonly settings: { readonly distanceM: number | null };
}

it.each([1, 2, 3])('takes over what version %i of its store holds', async (version) => {
  const { context, page, complaints } = await visit(await sharedBrowser(), `${url}pair`, PHONE, {});
  await leave(page, version, [storedEnd('unsaid', null), storedEnd('said', 30)]);
  // A picture shown by itself makes browsers ask for an icon of the site.
  complaints.length = 0;
  await page.goto(`${url}#/kept`);
  await expect.poll(() => page.locator('.end-card').count()).toBe(2);
  const ends = await stored<Kept>(page, 'ends');
  expect(ends.map(({ id, revision }) => [id, revision])).toEqual([
    ['said', 2],
    // Only the first version had sent a distance for it that nobody had said.
    ['unsaid', version === 1 ? 3 : 2],
  ]);
  // Its photo is there, and it can be corrected, deleted and put back.
  await page.locator('.end-card > a').first().tap();
  await page.locator('.verdict-head').waitFor();
  await page.goto(`${url}#/kept`);
  await page
    .getByRole('button', { name: /^Delete the end/ })
    .first()
    .tap();
  await expect.poll(() => page.locator('.end-card').count()).toBe(1);
  await page.getByText('Deleted: 1 end').tap();
  await page.getByRole('button', { name: /^Put back/ }).tap();
  await expect.poll(() => page.locator('.end-card').count()).toBe(2);
  await page.goto(`${url}#/set-ups`);
  await page.getByRole('heading', { name: 'The blue one' }).waitFor();
  await page.getByText('as bought').waitFor();
  expect(complaints).toEqual([]);
  await context.close();
});
