import { stat } from 'node:fs/promises';
import { crc32 } from 'node:zlib';
import { open, type Entry, type ZipFile } from 'yauzl';
import { isTrap } from '../../src/photo-files/files-of-people.ts';
import { issueSentence } from '../reading/issue-sentence.ts';
import {
  ARCHIVE_ENTRY,
  ARCHIVE_VERSION,
  archiveSchema,
  MAX_RECORD_BYTES,
  MAX_RECORD_VALUES,
  MISSING_ENTRY,
  PAGE_ENTRY,
  PHOTO_FILE,
  type Archive,
} from '../../src/tuning/record/archive.ts';
import { LogError } from './log-error.ts';

/** A zip file that looks like an export of ours. */
export interface OpenArchive {
  /** @throws LogError */
  records(): Promise<Archive>;
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
      records: () =>
        recordsOf(zip, entryOf(ARCHIVE_ENTRY, 'it was not made by an export of endwise')),
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

export function broken(why: string, cause?: unknown): LogError {
  return new LogError('bad-archive', `The archive cannot be imported: ${why}.`, { cause });
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

async function recordsOf(zip: ZipFile, entry: Entry): Promise<Archive> {
  const bytes = await contentOf(zip, entry, MAX_RECORD_BYTES);
  if (valuesIn(bytes) > MAX_RECORD_VALUES) throw broken('its records hold more than any log does');
  let value: unknown;
  try {
    value = JSON.parse(bytes.toString('utf8'));
  } catch (error) {
    throw broken('its records are not JSON', error);
  }
  const version = (value as { version?: unknown } | null)?.version;
  if (typeof version === 'number' && version > ARCHIVE_VERSION) {
    throw new LogError(
      'newer-archive',
      'The archive was written by a newer endwise: update endwise, then import it.',
    );
  }
  const parsed = archiveSchema.safeParse(value);
  if (!parsed.success) throw broken(issueSentence(parsed.error).replace(/\.$/, ''));
  return parsed.data;
}

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const OPENINGS = new Set([0x7b, 0x5b, 0x2c]);

/**
 * How many values JSON holds at most, counted without making them: a small archive can hold hundreds
 * of millions of empty ones.
 */
function valuesIn(json: Uint8Array): number {
  let values = 1;
  let inText = false;
  for (let at = 0; at < json.length; at++) {
    const byte = json[at]!;
    if (byte === QUOTE) inText = !inText;
    else if (!inText) values += OPENINGS.has(byte) ? 1 : 0;
    else if (byte === BACKSLASH) at++;
  }
  return values;
}

/**
 * An entry's bytes, checked by their sum: the reader checks only their number. What a zip bomb claims,
 * or inflates to, is cut off at the limit.
 */
async function contentOf(zip: ZipFile, entry: Entry, maxBytes: number): Promise<Buffer> {
  const { fileName, compressedSize: packed, uncompressedSize: unpacked } = entry;
  if (unpacked > maxBytes || isTrap({ packed, unpacked })) {
    throw broken(`"${fileName}" unpacks to more than an export writes`);
  }
  const bytes = await new Promise<Buffer>((resolve, reject) => {
    const fail = (error: unknown) => reject(broken(`"${fileName}" is damaged`, error));
    zip.openReadStream(entry, (error, stream) => {
      if (error) {
        fail(error);
        return;
      }
      const chunks: Buffer[] = [];
      stream.on('data', (chunk: Buffer) => chunks.push(chunk));
      stream.on('error', fail);
      stream.on('end', () => resolve(Buffer.concat(chunks)));
    });
  });
  if (crc32(bytes) !== entry.crc32) throw broken(`"${fileName}" is damaged`);
  return bytes;
}
