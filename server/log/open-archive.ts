import { stat } from 'node:fs/promises';
import type { Readable } from 'node:stream';
import { crc32 } from 'node:zlib';
import { open, type Entry, type ZipFile } from 'yauzl';
import { isTrap } from '../../src/photo-files/files-of-people.ts';
import {
  ARCHIVE_ENTRY,
  MISSING_ENTRY,
  PAGE_ENTRY,
  PHOTO_FILE,
} from '../../src/tuning/record/archive.ts';
import { ArchiveParser, type ArchiveValue } from './archive-parser.ts';
import { broken } from './broken-archive.ts';
import { LogError } from './log-error.ts';

/** Of records; ten times those of a hundred thousand ends. */
const MAX_UNPACKED_BYTES = 1024 ** 3;

/** A zip file that looks like an export of ours. */
export interface OpenArchive {
  /**
   * What its records hold, in the order and in the portions in which it comes; to be read as often as needed.
   * @throws LogError
   */
  values(): AsyncIterable<readonly ArchiveValue[]>;
  has(photo: string): boolean;
  /** @throws LogError */
  photo(file: string, maxBytes: number): Promise<Buffer>;
  close(): void;
}

/** @throws LogError */
export async function openArchive(path: string): Promise<OpenArchive> {
  const zip = await opened(path);
  try {
    const entries = await entriesOf(zip);
    const entryOf = (name: string, what: string) => {
      const entry = entries.get(name);
      if (entry === undefined) throw broken(what);
      return entry;
    };
    return {
      values: () =>
        valuesOf(zip, entryOf(ARCHIVE_ENTRY, 'it was not made by an export of endwise')),
      has: (photo) => entries.has(`photos/${photo}`),
      photo: (file, maxBytes) =>
        contentOf(zip, entryOf(`photos/${file}`, `it lacks the photo ${file}`), maxBytes),
      close: () => zip.close(),
    };
  } catch (error) {
    zip.close();
    throw error;
  }
}

async function opened(path: string): Promise<ZipFile> {
  await stat(path).catch((error: NodeJS.ErrnoException) => {
    const why = error.code === 'ENOENT' ? 'does not exist' : 'cannot be opened';
    throw new LogError('bad-archive', `The archive ${path} ${why}.`, { cause: error });
  });
  return new Promise((resolve, reject) => {
    open(path, { lazyEntries: true, autoClose: false }, (error, zip) => {
      if (error) reject(broken('it is no zip file, or breaks off', error));
      else resolve(zip);
    });
  });
}

function entriesOf(zip: ZipFile): Promise<Map<string, Entry>> {
  const entries = new Map<string, Entry>();
  return new Promise((resolve, reject) => {
    zip.on('entry', (entry: Entry) => {
      const { fileName } = entry;
      const photo = /^photos\/(.*)$/.exec(fileName)?.[1];
      const ours =
        fileName === ARCHIVE_ENTRY ||
        fileName === MISSING_ENTRY ||
        fileName === PAGE_ENTRY ||
        (photo !== undefined && PHOTO_FILE.test(photo));
      if (!ours) {
        reject(broken(`it holds "${fileName.slice(0, 80)}", which no export writes`));
        return;
      }
      if (entries.has(fileName)) {
        reject(broken(`it holds two files of the name "${fileName.slice(0, 80)}"`));
        return;
      }
      entries.set(fileName, entry);
      zip.readEntry();
    });
    zip.on('end', () => resolve(entries));
    zip.on('error', (error) => reject(broken('its directory is damaged', error)));
    zip.readEntry();
  });
}

async function* valuesOf(zip: ZipFile, entry: Entry): AsyncGenerator<readonly ArchiveValue[]> {
  const parser = new ArchiveParser();
  for await (const chunk of chunksOf(zip, entry, MAX_UNPACKED_BYTES)) {
    const values = parser.take(chunk);
    if (values.length > 0) yield values;
  }
  parser.end();
}

async function contentOf(zip: ZipFile, entry: Entry, maxBytes: number): Promise<Buffer> {
  const chunks: Buffer[] = [];
  for await (const chunk of chunksOf(zip, entry, maxBytes)) chunks.push(chunk);
  return Buffer.concat(chunks);
}

/**
 * An entry's bytes, checked at their end by their sum: the reader checks only their number. What a zip bomb
 * claims, or inflates to, is cut off at the limit.
 */
async function* chunksOf(zip: ZipFile, entry: Entry, maxBytes: number): AsyncGenerator<Buffer> {
  const { fileName, compressedSize: packed, uncompressedSize: unpacked } = entry;
  if (unpacked > maxBytes || isTrap({ packed, unpacked })) {
    throw broken(`"${fileName}" unpacks to more than an export writes`);
  }
  const damaged = (error?: unknown) => broken(`"${fileName}" is damaged`, error);
  const stream = await new Promise<Readable>((resolve, reject) => {
    zip.openReadStream(entry, (error, opened) => {
      if (error) reject(damaged(error));
      else resolve(opened);
    });
  });
  let sum = 0;
  const bytes = stream[Symbol.asyncIterator]();
  for (;;) {
    const next = await bytes.next().catch((error: unknown) => {
      throw damaged(error);
    });
    if (next.done) break;
    const chunk = next.value as Buffer;
    sum = crc32(chunk, sum);
    yield chunk;
  }
  if (sum !== entry.crc32) throw damaged();
}
