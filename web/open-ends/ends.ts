import { ENGLISH } from '../../src/words/words.ts';
import { say, words } from '../state/words.ts';
import { effect, signal } from '@preact/signals';
import type { Reading } from '../../src/reading/reading.ts';
import { database } from '../store/database.ts';
import { knownOfBow } from '../store/known-of-bow.ts';
import { ReadFailure } from '../reader/read-failure.ts';
import { readInWorker } from '../reader/read-in-worker.ts';
import { announce } from '../state/announce.ts';
import { hold } from '../state/between-tabs.ts';
import { endLock, OPEN_HERE } from './left-behind.ts';
import { OpenEnd } from '../state/open-end.ts';
import { showablePhoto } from './showable-photo.ts';
import { newEndRecord, type EndRecord } from '../state/end-record.ts';
import { goTo, route } from '../state/route.ts';
import { requestOf, settingsToday, sizes, type Settings } from '../state/settings.ts';

/** Ends that are open on this page, in the order of their photos. */
export const openEnds = signal<readonly OpenEnd[]>([]);

const aborts = new Map<string, AbortController>();
const watches = new Map<string, () => void>();

export function currentEnd(): OpenEnd | null {
  const { page, id } = route.value;
  if (page !== 'end') return null;
  return openEnds.value.find((end) => end.id === id) ?? null;
}

/** Opens photos as new ends and starts reading them, the first one shown. */
export async function openPhotos(
  photos: readonly File[],
  before: Blob | null,
  about: Settings = settingsToday(),
): Promise<void> {
  const shown = await Promise.all(photos.map((photo) => showablePhoto(photo)));
  const shownBefore = before && (await showablePhoto(before));
  const ends = photos.map((file, i) => {
    const { photo, focalPx } = shown[i]!;
    const record = newEndRecord({ photoName: file.name, settings: about, focalPx });
    return new OpenEnd(record, photo, shownBefore?.photo ?? null);
  });
  const [first] = ends;
  if (!first) return;
  for (const end of ends) adopt(end);
  goTo('end', first.id);
  // Storing goes on beside reading: neither waits for the other.
  const stored = Promise.all(ends.map((end) => storeWithPhotos(end)));
  for (const end of ends) void readEnd(end);
  await stored;
}

/** Opens a photo with a reading that was made before, elsewhere or by the command line. */
export async function openReading(photo: File, reading: Reading): Promise<void> {
  const about = settingsToday();
  const record = newEndRecord({
    photoName: photo.name,
    settings: {
      ...about,
      face: reading.face,
      ...(about.shaftMm !== null && reading.shaftMm !== undefined && { shaftMm: reading.shaftMm }),
    },
    focalPx: null,
    reading,
  });
  const end = new OpenEnd(record, photo, null);
  adopt(end);
  goTo('end', end.id);
  await storeWithPhotos(end);
}

export async function readEnd(end: OpenEnd): Promise<void> {
  cancelReading(end);
  const abort = new AbortController();
  aborts.set(end.id, abort);
  end.status.value = { name: 'reading', stage: 'decode' };
  try {
    const { reading } = await readInWorker({
      photo: end.photo,
      before: end.before.value,
      also: end.also.value,
      focalPx: end.focalPx,
      request: requestOf(end.settings.value),
      byHand: end.byHand.value,
      pick: end.pick.value,
      sizes: sizes.value,
      signal: abort.signal,
      onStage: (stage) => {
        if (!abort.signal.aborted) end.status.value = { name: 'reading', stage };
      },
    });
    end.take(reading);
  } catch (error) {
    if (abort.signal.aborted && aborts.get(end.id) !== abort) return;
    // Read again, the photo's own choice among several faces is as good as the one that failed.
    end.pick.value = null;
    end.status.value =
      error instanceof ReadFailure
        ? {
            name: 'failed',
            code: error.code,
            message: error.message,
            looksLike: error.looksLike,
          }
        : {
            name: 'failed',
            code: 'unexpected',
            message: ENGLISH.say('Reading failed unexpectedly: try again.'),
            looksLike: null,
          };
  } finally {
    if (aborts.get(end.id) === abort) aborts.delete(end.id);
  }
}

/**
 * Reads an end once more together with another photo of it. Where that photo cannot be joined, the
 * end stays as it was, and a sentence says why. Returns whether it was joined.
 */
export async function addView(end: OpenEnd, file: Blob): Promise<boolean> {
  const { photo } = await showablePhoto(file);
  end.also.value = photo;
  await readEnd(end);
  const status = end.status.value;
  if (status.name !== 'failed' || !end.reading.value) {
    await storePhoto(photo, `also:${end.id}`);
    return true;
  }
  end.also.value = null;
  end.status.value = { name: 'read' };
  announce(words.value.again(status.message));
  return false;
}

/** Reads an end by its first photo alone again. */
export async function leaveViewOut(end: OpenEnd): Promise<void> {
  end.also.value = null;
  await (await database()).delete('photos', `also:${end.id}`);
  await readEnd(end);
}

export function cancelReading(end: OpenEnd): void {
  const abort = aborts.get(end.id);
  aborts.delete(end.id);
  abort?.abort();
  if (abort) {
    const message = ENGLISH.say('Reading was cancelled.');
    end.status.value = { name: 'failed', code: 'cancelled', message, looksLike: null };
  }
}

/** Puts an end away without keeping it. */
export async function discardEnd(end: OpenEnd): Promise<void> {
  release(end);
  const db = await database();
  await db.delete('drafts', end.id);
  if ((await db.get('ends', end.id)) === undefined) {
    await db.delete('photos', end.id);
    await db.delete('photos', `before:${end.id}`);
    await db.delete('photos', `also:${end.id}`);
  }
}

/** A kept end that was only looked at goes when it is left; with changes it waits to be kept. */
export async function leave(end: OpenEnd): Promise<void> {
  const db = await database();
  const kept = await db.get('ends', end.id);
  if (!kept || currentEnd() === end || !openEnds.value.includes(end)) return;
  const { settings, marks, note, byHand, pick } = end.record();
  const before = [kept.settings, kept.marks, kept.note, kept.byHand, kept.pick];
  if (JSON.stringify([settings, marks, note, byHand, pick]) !== JSON.stringify(before)) return;
  release(end);
  await db.delete('drafts', end.id);
}

/** Takes an end off the page; what is stored stays. */
export function release(end: OpenEnd): void {
  cancelReading(end);
  watches.get(end.id)?.();
  watches.delete(end.id);
  openEnds.value = openEnds.value.filter((other) => other !== end);
  rememberOurs();
  end.close();
}

/** After a reload: the ends this tab had open come back as they were. */
export async function restoreOwnEnds(): Promise<void> {
  const ids = JSON.parse(sessionStorage.getItem(OPEN_HERE) ?? '[]') as unknown;
  if (!Array.isArray(ids)) return;
  for (const id of ids) if (typeof id === 'string') await restore(id);
}

/** Brings a stored draft back onto the page; returns it, or null when its photo is gone. */
export async function restore(id: string): Promise<OpenEnd | null> {
  const open = openEnds.value.find((end) => end.id === id);
  if (open) return open;
  const db = await database();
  const kept = await db.get('ends', id);
  const record = (await db.get('drafts', id)) ?? kept;
  const photo = await db.get('photos', id);
  if (!record || !photo) return null;
  const [before, also] = await Promise.all([
    db.get('photos', `before:${id}`),
    db.get('photos', `also:${id}`),
  ]);
  const end = new OpenEnd(record, photo, before, also, kept !== undefined);
  adopt(end);
  if (!end.reading.value) void readEnd(end);
  return end;
}

function rememberOurs(): void {
  sessionStorage.setItem(OPEN_HERE, JSON.stringify(openEnds.value.map((end) => end.id)));
}

function adopt(end: OpenEnd): void {
  openEnds.value = [...openEnds.value, end];
  rememberOurs();
  const letGo = hold(endLock(end.id));
  let timer: ReturnType<typeof setTimeout> | undefined;
  let first = true;
  const unwatch = effect(() => {
    const record = end.record();
    if (first) {
      first = false;
      return;
    }
    clearTimeout(timer);
    timer = setTimeout(() => void store(record), 250);
  });
  const unlearn = effect(() => {
    const { archer, setUpId } = end.settings.value;
    void knownOfBow({ archer, setUpId }, { id: end.id, at: end.createdAt }).then(
      (known) => (end.known.value = known),
      () => {
        // Without a log the end is judged by itself.
      },
    );
  });
  watches.set(end.id, () => {
    clearTimeout(timer);
    unlearn();
    unwatch();
    letGo();
  });
}

async function store(record: EndRecord): Promise<void> {
  try {
    await (await database()).put('drafts', record);
  } catch {
    announce(say('No room to save this end: download it before you leave.'));
  }
}

async function storePhoto(photo: Blob, key: string): Promise<void> {
  try {
    await (await database()).put('photos', photo, key);
  } catch {
    announce(say('No room to save the photo: download the end before you leave.'));
  }
}

async function storeWithPhotos(end: OpenEnd): Promise<void> {
  try {
    const db = await database();
    const before = end.before.value;
    await db.put('photos', end.photo, end.id);
    if (before) await db.put('photos', before, `before:${end.id}`);
    await db.put('drafts', end.record());
  } catch {
    announce(say('No room to save the photo: download the end before you leave.'));
  }
}
