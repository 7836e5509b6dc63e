import { say } from '../state/words.ts';
import { z } from 'zod';
import {
  ARCHIVE_ENTRY,
  ARCHIVE_VERSION,
  archiveSchema,
  MAX_RECORD_BYTES,
  PAGE_ENTRY,
  PHOTO_FILE,
  UNSAID_DISTANCES_SINCE,
  type Archive,
} from '../../src/tuning/record/archive.ts';
import { madeUpDistance, withoutMadeUp } from '../../src/tuning/record/made-up-distance.ts';
import { isTrap } from '../../src/photo-files/files-of-people.ts';
import { unpack } from '../files/unpack.ts';
import { database, type KeptEnd } from '../store/database.ts';
import { isWrittenDown, type Book } from '../store/log-of-kept.ts';
import { keptFromLog } from './kept-from-log.ts';
import { pageBookSchema, pageRecordSchema, type PageRecord } from './page-records.ts';

/** A browser unpacks in memory. */
const MAX_ARCHIVE_BYTES = 1024 ** 3;
const MAX_PHOTO_BYTES = 64 * 1024 * 1024;

/** Why a file cannot be taken in: a sentence with what to do. */
export class BackupProblem extends Error {}

export interface TakenIn {
  readonly ends: number;
  readonly setUps: number;
  /** Ends that were here already: they stayed as they are. */
  readonly there: number;
}

/**
 * Takes in what an archive holds and this device does not have; what is here stays as it is.
 * @throws BackupProblem before anything is kept
 */
export async function readBackup(file: Blob): Promise<TakenIn> {
  const { archive, records, photos, book } = await contentOf(file);
  const db = await database();
  const write = db.transaction(['ends', 'photos', 'bows', 'setUps', 'deleted'], 'readwrite');
  const ends = write.objectStore('ends');
  const counts = { ends: 0, setUps: 0, there: 0 };
  for (const bow of book.bows) {
    if (!(await write.objectStore('bows').get(bow.id))) await write.objectStore('bows').put(bow);
  }
  for (const setUp of book.setUps) {
    if (await write.objectStore('setUps').get(setUp.id)) continue;
    if (!(await write.objectStore('bows').get(setUp.bowId))) continue;
    await write.objectStore('setUps').put(setUp);
    counts.setUps++;
  }
  const ofPage = new Map(records.map((record) => [record.end.id, record]));
  for (const end of archive.ends) {
    if (await ends.get(end.id)) {
      counts.there++;
      continue;
    }
    const record = ofPage.get(end.id);
    const kept: KeptEnd | null = record
      ? { ...record.end, sentRevision: 0, logVersion: null, conflict: null }
      : keptFromLog(end, archive);
    if (kept === null) continue;
    await ends.put(kept);
    await write.objectStore('deleted').delete(end.id);
    counts.ends++;
    const put = async (key: string, photo: string) => {
      const bytes = photos.get(photo);
      if (bytes)
        await write.objectStore('photos').put(new Blob([bytes], { type: 'image/jpeg' }), key);
    };
    if (end.photo) await put(end.id, end.photo.file);
    for (const [name, photo] of record?.photos ?? []) await put(`${name}:${end.id}`, photo);
  }
  await write.done;
  return counts;
}

interface Content {
  readonly archive: Archive;
  readonly records: readonly PageRecord[];
  readonly book: Book;
  readonly photos: ReadonlyMap<string, Uint8Array<ArrayBuffer>>;
}

async function contentOf(file: Blob): Promise<Content> {
  if (file.size > MAX_ARCHIVE_BYTES) {
    throw new BackupProblem(
      say(
        'The file is larger than 1 GB: a browser cannot unpack it. Take it in with “endwise import”.',
      ),
    );
  }
  let total = 0;
  let isOver = false;
  const entries = await unpack(new Uint8Array(await file.arrayBuffer()), (entry) => {
    const { name, size: packed, originalSize: unpacked } = entry;
    const isPhoto = name.startsWith('photos/') && PHOTO_FILE.test(name.slice('photos/'.length));
    if (!isPhoto && name !== ARCHIVE_ENTRY && name !== PAGE_ENTRY) return false;
    total += unpacked;
    isOver ||=
      isTrap({ packed, unpacked }) ||
      total > 2 * MAX_ARCHIVE_BYTES ||
      unpacked > (isPhoto ? MAX_PHOTO_BYTES : MAX_RECORD_BYTES);
    return !isOver;
  }).catch(() => {
    throw new BackupProblem(
      say('The file is no copy of endwise, or breaks off: choose another one.'),
    );
  });
  if (isOver)
    throw new BackupProblem(say('The file unpacks to more than a copy holds: it was refused.'));
  const said = jsonIn(entries[ARCHIVE_ENTRY]);
  const version = z.object({ version: z.number() }).safeParse(said);
  if (version.success && version.data.version > ARCHIVE_VERSION) {
    throw new BackupProblem(
      say('A newer endwise wrote this file: load the page anew, then take it in.'),
    );
  }
  const archive = archiveSchema.safeParse(said);
  if (!archive.success) {
    throw new BackupProblem(
      say('The file is no copy of endwise, or a damaged one: choose another one.'),
    );
  }
  const photos = new Map(
    Object.entries(entries)
      .filter(([name]) => name.startsWith('photos/'))
      .map(([name, bytes]) => [name.slice('photos/'.length), bytes as Uint8Array<ArrayBuffer>]),
  );
  const missing = archive.data.ends.filter(({ photo }) => photo && !photos.has(photo.file)).length;
  if (missing > 0) {
    throw new BackupProblem(
      say('The file lacks {missing} of its photos: choose another one.', { missing }),
    );
  }
  const ofPage = jsonIn(entries[PAGE_ENTRY]);
  const { ends: records } = z
    .object({ ends: z.array(z.unknown()) })
    .catch({ ends: [] })
    .parse(ofPage);
  const book = pageBookSchema.safeParse(ofPage);
  return {
    archive: withoutMadeUpDistances(archive.data),
    book: book.success ? book.data : bookOf(archive.data),
    // One that does not fit is read from the log's row like those of the command line.
    records: records.flatMap((one) => {
      const record = pageRecordSchema.safeParse(one);
      return record.success ? [record.data] : [];
    }),
    photos,
  };
}

function bookOf({ archers, bows, setUps }: Archive): Book {
  const names = new Map(archers.map(({ id, name }) => [id, name]));
  return {
    bows: bows
      .filter(isWrittenDown)
      .map((bow) => ({ ...bow, archerId: names.get(bow.archerId) ?? bow.archerId })),
    setUps: setUps.filter(isWrittenDown),
  };
}

function jsonIn(bytes: Uint8Array | undefined): unknown {
  if (bytes === undefined) return null;
  try {
    return JSON.parse(new TextDecoder().decode(bytes));
  } catch {
    return null;
  }
}

/** An earlier endwise kept ends without a distance as of one that it made up. */
function withoutMadeUpDistances(archive: Archive): Archive {
  if (archive.version >= UNSAID_DISTANCES_SINCE) return archive;
  const sessions = archive.sessions.map((session) =>
    madeUpDistance(session) === 'yes' ? withoutMadeUp(session) : session,
  );
  return { ...archive, sessions };
}
