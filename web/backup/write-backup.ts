import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import { Zip, ZipDeflate, ZipPassThrough } from 'fflate';
import { v4 as newId } from 'uuid';
import {
  ARCHIVE_ENTRY,
  ARCHIVE_VERSION,
  PAGE_ENTRY,
  PHOTO_FILE,
  type Archive,
} from '../../src/tuning/record/archive.ts';
import { archerIds } from '../../src/tuning/record/archer-id.ts';
import type { Archer } from '../../src/tuning/record/session.ts';
import { database, type KeptEnd } from '../store/database.ts';
import { keptEnds } from '../store/kept-ends.ts';
import {
  lastOfEach,
  logRowsOf,
  NO_NAME,
  NOBODY,
  type Book,
  type LogRows,
} from '../store/log-of-kept.ts';
import { withOwnBow } from '../store/own-bow.ts';
import { writtenBook } from '../store/written-book.ts';
import { pageRecordSchema, type PageRecord } from './page-records.ts';

export interface Backup {
  readonly file: Blob;
  readonly ends: number;
  readonly photos: number;
}

/** Everything that is kept on this device in one file: the archive that `endwise export` writes, too. */
export async function writeBackup(): Promise<Backup> {
  const db = await database();
  const [kept, book] = await Promise.all([keptEnds(), writtenBook()]);
  const zip = new ZipParts();
  const seen = new Set<string>();
  const ends: Archive['ends'] = [];
  const records: PageRecord[] = [];
  let photos = 0;
  const rows = logRows(kept, book);
  for (const [i, end] of kept.entries()) {
    const photo = await db.get('photos', end.id);
    const stored = photo && (await zip.photo(end.id, photo));
    if (stored) photos++;
    // One archer's photo counts once in a log; where it was kept twice, both ends are there all the same.
    const key = stored && `${rows[i]!.archer.id} ${stored.sha256}`;
    const isFirst = key !== undefined && !seen.has(key);
    if (key !== undefined) seen.add(key);
    ends.push({
      ...rows[i]!.end,
      photo: stored ?? null,
      sourceSha256: stored && isFirst ? stored.sha256 : null,
    });
    const further: PageRecord['photos'] = [];
    for (const name of ['before', 'also']) {
      const other = await db.get('photos', `${name}:${end.id}`);
      if (other) further.push([name, (await zip.photo(newId(), other)).file]);
    }
    records.push(pageRecordSchema.parse({ end, photos: further }));
  }
  zip.text(PAGE_ENTRY, JSON.stringify({ ...book, ends: records }));
  const archive = { ...withBook(rows, book), ends };
  zip.text(ARCHIVE_ENTRY, JSON.stringify(archive));
  return { file: zip.end(), ends: ends.length, photos };
}

/** The log's rows of each end; a bow that two people shoot stands there once for each. */
function logRows(kept: readonly KeptEnd[], book: Book): LogRows[] {
  const ownerOf = new Map<string, string>();
  const idOf = archerIds();
  for (const { id, archerId } of book.bows) {
    if (archerId !== NOBODY) ownerOf.set(id, idOf(archerId));
  }
  return kept.map((end) => {
    const rows = logRowsOf(end, book);
    const owner = ownerOf.get(rows.bow.id) ?? rows.archer.id;
    ownerOf.set(rows.bow.id, owner);
    return owner === rows.archer.id ? rows : withOwnBow(rows);
  });
}

/** All rows that ends stand for, and what was written down of bows with which nothing was shot yet. */
function withBook(rows: readonly LogRows[], { bows, setUps }: Book): Omit<Archive, 'ends'> {
  const archers = new Map<string, Archer>();
  const idOf = archerIds();
  const inBook = bows.map((bow) => {
    const name = bow.archerId === NOBODY ? NO_NAME : bow.archerId;
    const archerId = idOf(name);
    archers.set(archerId, { id: archerId, name, hand: bow.hand, notes: '' });
    return { ...bow, archerId };
  });
  // Oldest last: of a session, what was said of it last stays.
  const late = [...rows].reverse();
  for (const { archer } of late) archers.set(archer.id, archer);
  const bowIds = new Map(inBook.map((bow) => [bow.id, bow]));
  for (const { bow } of late) bowIds.set(bow.id, bow);
  return {
    format: 'endwise-log',
    version: ARCHIVE_VERSION,
    exportedAt: new Date().toISOString(),
    archers: [...archers.values()],
    bows: [...bowIds.values()],
    setUps: lastOfEach(
      setUps.filter(({ bowId }) => bowIds.has(bowId)),
      late.map(({ setUp }) => setUp),
    ),
    sessions: lastOfEach(late.map(({ session }) => session)),
  };
}

/** A zip file that is written entry by entry, so that no more than one photo is held at a time. */
class ZipParts {
  readonly #parts: Blob[] = [];
  readonly #zip = new Zip((error, chunk) => {
    if (error) throw error;
    this.#parts.push(new Blob([chunk]));
  });

  /** Photos are compressed already. @param name a UUID where it can be one */
  async photo(
    name: string,
    photo: Blob,
  ): Promise<{ readonly file: string; readonly sha256: string }> {
    const bytes = new Uint8Array(await photo.arrayBuffer());
    const file = PHOTO_FILE.test(`${name}.jpg`) ? `${name}.jpg` : `${newId()}.jpg`;
    const entry = new ZipPassThrough(`photos/${file}`);
    this.#zip.add(entry);
    entry.push(bytes, true);
    return { file, sha256: bytesToHex(sha256(bytes)) };
  }

  text(name: string, content: string): void {
    const entry = new ZipDeflate(name);
    this.#zip.add(entry);
    entry.push(new TextEncoder().encode(content), true);
  }

  end(): Blob {
    this.#zip.end();
    return new Blob(this.#parts, { type: 'application/zip' });
  }
}
