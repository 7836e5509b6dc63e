import type { Page } from 'playwright-core';
import sharp from 'sharp';
import { SETTINGS_AT_FIRST } from '../../web/state/settings-at-first.ts';
import type { EndRecord } from '../../web/state/end-record.ts';
import { readingOfTruth } from '../drawing/reading-of-truth.ts';
import { SAID_BEFORE, testImage } from './browser.ts';

/** The evening as the page has it once all its photos were read; the first of each archer lacks an arrow. */
export async function fillEvening(
  page: Page,
  url: string,
  { archers, each }: { readonly archers: number; readonly each: number },
): Promise<void> {
  const { reading } = readingOfTruth('fresh-02');
  const photo = await sharp(testImage('fresh-02.jpg')).jpeg({ quality: 20 }).toBuffer();
  const record: Omit<EndRecord, 'id' | 'createdAt'> = {
    photoName: '1.jpg',
    settings: { ...SETTINGS_AT_FIRST, ...SAID_BEFORE, face: 'wa80', distanceM: 50 },
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
    { record, photo: photo.toString('base64'), archers, each },
  );
  await page.goto(`${url}#/evening`);
  await page.reload();
}
