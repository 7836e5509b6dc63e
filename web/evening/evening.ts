import { say, words } from '../state/words.ts';
import exifr from 'exifr/dist/lite.esm.mjs';
import { effect } from '@preact/signals';
import { beforeHelps, wouldGainByBefore } from '../../src/evening/before-helps.ts';
import type { EveningLine } from '../../src/evening/evening-line.ts';
import { lookAtFailure, needsLook, type Look } from '../../src/evening/needs-look.ts';
import { orderEvening } from '../../src/evening/order-evening.ts';
import { setUpOfFolder } from '../../src/evening/set-up-of-folder.ts';
import type { Hand, ReadingRequest } from '../../src/request/request.ts';
import { correctedReading } from '../keep/corrected-reading.ts';
import { keepEnd } from '../keep/keep-end.ts';
import { database } from '../store/database.ts';
import type { Book } from '../store/log-of-kept.ts';
import { writtenBook } from '../store/written-book.ts';
import { readInWorker } from '../reader/read-in-worker.ts';
import { newEndRecord } from '../state/end-record.ts';
import { addView, discardEnd, openEnds, readEnd, restore } from '../open-ends/ends.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { requestOf, settingsToday, shotWith, sizes, type Settings } from '../state/settings.ts';
import { showablePhoto } from '../open-ends/showable-photo.ts';
import { evening, type Place } from './evening-places.ts';
import type { GatheredFile } from './gather-files.ts';
import { GatherProblem } from './gather-problem.ts';

/** An end of the evening that is open on this page, and how much it asks for a look. */
export interface EveningEnd {
  readonly place: Place;
  readonly end: OpenEnd;
  /** Null while it waits or is being read. */
  readonly look: Look | null;
  readonly ok: boolean;
}

/**
 * Opens the photos of an evening as ends and has them read one after another; the archer's name comes
 * from folders and file names where these tell one.
 * @throws GatherProblem
 */
export async function openEvening(photos: readonly GatheredFile[]): Promise<void> {
  if (photos.length === 0) throw new GatherProblem(say('There is no photo in it.'));
  const blobs = new Map(photos.map(({ path, file }) => [path, file]));
  const timed = await Promise.all(
    photos.map(async ({ path, file }) => {
      const takenAt = await takenAtOf(file);
      return { path, ...(takenAt === null ? {} : { takenAt }) };
    }),
  );
  const about = settingsToday();
  const db = await database();
  const book = await writtenBook();
  const shown = new Map<string, Blob>();
  for (const ordered of orderEvening(timed)) {
    const { path, archer, bow, session, end, before, also } = ordered;
    const { photo, focalPx } = await showablePhoto(blobs.get(path)!);
    const plain = newEndRecord({
      photoName: path.split('/').at(-1)!,
      settings: ofFolder(book, about, { archer: archer.slice(0, 80), bow }),
      focalPx,
    });
    // What the folder says of the bow and the book does not know is not lost.
    const isUntold = bow !== '' && plain.settings.setUpId === null;
    const record = isUntold
      ? { ...plain, note: say('Shot with “{bow}”.', { bow }).slice(0, 2000) }
      : plain;
    await db.put('photos', photo, record.id);
    if (before !== null) {
      const { photo: earlier } = await showablePhoto(blobs.get(before)!);
      await db.put('photos', earlier, `before:${record.id}`);
    }
    if (also !== null) {
      const { photo: other } = await showablePhoto(blobs.get(also)!);
      await db.put('photos', other, `also:${record.id}`);
    }
    await db.put('drafts', record);
    const place = { id: record.id, path, bow, session, end, takenAt: ordered.takenAt ?? null };
    evening.value = [...evening.value, place];
    const opened = await restore(record.id);
    const earlier = ordered.earlier === null ? undefined : shown.get(ordered.earlier);
    if (opened && earlier) whenRead(opened, () => tryAgainst(opened, earlier));
    shown.set(path, photo);
  }
}

/** What was said of all, with the archer, bow and set-up that the folders of a photo name. */
function ofFolder(
  book: Book,
  about: Settings,
  { archer, bow }: { readonly archer: string; readonly bow: string },
): Settings {
  const said = { ...about, archer: archer || about.archer };
  const found = setUpOfFolder(book, { archer: said.archer, bow });
  if (found) return { ...said, ...shotWith(found.bow, found.setUp) };
  // The set-up in use is one archer's: others did not shoot with it, nor did another bow.
  const isOwn = said.archer === about.archer && bow === '';
  return isOwn ? said : { ...said, setUpId: null };
}

/** The end after a photo (1) or before it (-1), of the same archer and bow. */
function neighbour({ place }: EveningEnd, by: 1 | -1): EveningEnd | null {
  const own = new Map(eveningEnds().map((one) => [one.place.id, one]));
  const archerOf = (id: string) => own.get(id)?.end.settings.value.archer;
  const alike = evening.value.filter(
    ({ id, bow }) => own.has(id) && bow === place.bow && archerOf(id) === archerOf(place.id),
  );
  const next = alike[alike.findIndex(({ id }) => id === place.id) + by];
  return next ? own.get(next.id)! : null;
}

/**
 * Takes a photo as the one from before the end after it, which is read anew with it; by itself it is no
 * end then. Returns the path of that end's photo, null where none comes after.
 */
export async function takeAsBefore(photo: EveningEnd): Promise<string | null> {
  const next = neighbour(photo, 1);
  if (next === null) return null;
  const db = await database();
  await db.put('photos', photo.end.photo, `before:${next.end.id}`);
  next.end.before.value = photo.end.photo;
  await putAway(photo);
  void readEnd(next.end);
  return next.place.path;
}

/**
 * Takes a photo as a second view of the end before it, which is read anew with it; by itself it is no
 * end then, unless it shows other arrows. Returns the path of that end's photo and whether the photo was
 * joined to it; null where none that was read comes before.
 */
export async function takeAsAlso(
  photo: EveningEnd,
): Promise<{ readonly path: string; readonly joined: boolean } | null> {
  const last = neighbour(photo, -1);
  if (last === null || last.end.status.value.name !== 'read') return null;
  const joined = await addView(last.end, photo.end.photo);
  if (joined) await putAway(photo);
  return { path: last.place.path, joined };
}

/** It goes on as a part of another end. */
async function putAway({ place, end }: EveningEnd): Promise<void> {
  evening.value = evening.value.filter(({ id }) => id !== place.id);
  await discardEnd(end);
}

/** Whether an end was read, needs no look, and can be kept: the hand that shot it is known. */
export function isUndoubted({ end, look, ok }: EveningEnd): boolean {
  return ok && look !== null && !look.needed && end.hand.value !== null;
}

/** Archers of whom nobody has said which hand they shoot with, as their ends name them. */
export function archersWithoutHand(ends: readonly EveningEnd[]): string[] {
  const without = ends.filter(({ end, look }) => look !== null && end.hand.value === null);
  return [...new Set(without.map(({ end }) => end.settings.value.archer))];
}

/** Says it of all ends of an archer that wait for it. */
export function sayHandOf(archer: string, hand: Hand): void {
  for (const { end } of eveningEnds()) {
    if (end.settings.value.archer !== archer || end.hand.value !== null) continue;
    end.settings.value = { ...end.settings.value, hand };
  }
}

/** Keeps every end that needs no look. @returns how many */
export async function keepUndoubted(): Promise<number> {
  const sure = eveningEnds().filter(isUndoubted);
  for (const { end } of sure) await keepEnd(end);
  return sure.length;
}

function whenRead(end: OpenEnd, run: () => Promise<void>): void {
  let done = false;
  const stop = effect(() => {
    if (done || end.status.value.name !== 'read') return;
    done = true;
    queueMicrotask(() => {
      stop();
      void run();
    });
  });
}

/** Takes the photo before it in the session as the one from before this end, where that helps. */
async function tryAgainst(end: OpenEnd, earlier: Blob): Promise<void> {
  const request = requestOf(end.settings.value);
  const alone = end.reading.value?.marks ?? [];
  if (end.before.value !== null || !wouldGainByBefore(alone, request)) return;
  try {
    const { reading } = await readInWorker({
      photo: end.photo,
      before: earlier,
      also: end.also.value,
      focalPx: end.focalPx,
      request,
      byHand: null,
      pick: null,
      sizes: sizes.value,
      signal: new AbortController().signal,
      onStage: () => {},
    });
    const touched = end.canUndo.value || end.tagsConfirmed.value || end.before.value !== null;
    if (touched || !beforeHelps(reading.marks, alone, request)) return;
    end.before.value = earlier;
    end.take(reading);
  } catch {
    // It shows another face: then it is none from before.
  }
}

/** By the camera's own clock, ISO 8601 without a zone. */
async function takenAtOf(photo: Blob): Promise<string | null> {
  const tags = (await exifr
    .parse(photo, { gps: false, reviveValues: false })
    .catch(() => undefined)) as { DateTimeOriginal?: unknown } | undefined;
  const text = typeof tags?.DateTimeOriginal === 'string' ? tags.DateTimeOriginal : '';
  const taken = /^(\d{4}):(\d\d):(\d\d) (\d\d:\d\d:\d\d)/.exec(text);
  return taken ? `${taken[1]}-${taken[2]}-${taken[3]}T${taken[4]}` : null;
}

/** The evening's ends that are open, those that need a look first, those not read yet last. */
export function eveningEnds(): EveningEnd[] {
  const open = new Map(openEnds.value.map((end) => [end.id, end]));
  return evening.value
    .flatMap((place) => {
      const end = open.get(place.id);
      return end ? [{ place, end, ...lookOf(end) }] : [];
    })
    .sort((a, b) => rank(a) - rank(b) || (b.look?.p ?? 0) - (a.look?.p ?? 0));
}

function rank({ ok, look }: EveningEnd): number {
  return look === null ? 2 : ok ? 1 : 0;
}

function lookOf(end: OpenEnd): { look: Look | null; ok: boolean } {
  const status = end.status.value;
  if (status.name === 'failed')
    return { look: lookAtFailure(words.value.again(status.message)), ok: false };
  const marks = end.evaluation.value?.marks;
  if (status.name !== 'read' || !marks) return { look: null, ok: true };
  const { fletched, bare } = requestOf(end.settings.value);
  return { look: needsLook({ marks }, { fletched, bare }, words.value), ok: true };
}

/** Face and shaft of the reading: what was said since is not in it. */
function readWith(end: OpenEnd): Partial<ReadingRequest> {
  if (end.unreadSizes.value === null) return {};
  const { face, shaftMm } = end.reading.value!;
  return { face, ...(shaftMm !== undefined && { shaftMm }) };
}

/** The evening as the lines of a results file, as corrected by now. */
export function eveningLines(): EveningLine[] {
  return eveningEnds().flatMap(({ place, end, look, ok }): EveningLine[] => {
    if (look === null) return [];
    const about = {
      photo: place.path,
      elapsedMs: 0,
      archer: end.settings.value.archer,
      bow: place.bow,
      session: place.session,
      end: place.end,
      ...(place.takenAt === null ? {} : { takenAt: place.takenAt }),
      request: { ...requestOf(end.settings.value), ...readWith(end) },
      look,
    };
    const log = end.evaluation.value?.usedLog;
    if (ok) {
      return [{ ...about, ok: true, reading: correctedReading(end), ...(log && { log }) }];
    }
    return [{ ...about, ok: false, error: { code: 'failed', message: look.reasons.join(' ') } }];
  });
}
