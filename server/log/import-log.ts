import { readFile } from 'node:fs/promises';
import { fromBuffer, type Entry, type ZipFile } from 'yauzl';
import { issueSentence } from '../reading/issue-sentence.ts';
import {
  ARCHIVE_ENTRY,
  ARCHIVE_VERSION,
  archiveSchema,
  PHOTO_FILE,
  type Archive,
} from './archive.ts';
import { explainStorage } from './explain-storage.ts';
import type { Log } from './log.ts';
import { LogError } from './log-error.ts';
import { sha256 } from './photo-store.ts';

/** Largest record part and largest photo that an archive of ours can hold, bytes. */
const MAX_RECORD_BYTES = 256 * 1024 * 1024;
const MAX_PHOTO_BYTES = 64 * 1024 * 1024;
const MAX_ARCHIVE_BYTES = 2 * 1024 * 1024 * 1024 - 1;

/**
 * Fills an empty log from an archive. Everything is checked before anything is kept: an archive that
 * breaks off, lacks a photo or was altered is refused and the log stays empty.
 * @throws LogError
 */
export async function importLog(log: Log, path: string): Promise<{ ends: number; photos: number }> {
  if ((await log.archers()).length > 0) {
    throw new LogError(
      'not-empty',
      'This log is not empty: import into an empty one (ENDWISE_DATA names another folder).',
    );
  }
  const zip = await openArchive(path);
  const stored: string[] = [];
  try {
    const entries = await entriesOf(zip);
    const archive = await recordsOf(zip, entries);
    for (const { photo } of archive.ends) {
      if (photo === null) continue;
      const entry = entries.get(`photos/${photo.file}`);
      if (!entry) throw broken(`it lacks the photo ${photo.file}`);
      const bytes = await contentOf(zip, entry, MAX_PHOTO_BYTES);
      if (sha256(bytes) !== photo.sha256) throw broken(`the photo ${photo.file} was altered`);
      stored.push(photo.file);
      await log.photos.put(photo.file, bytes);
    }
    await log.fill(archive);
    return { ends: archive.ends.length, photos: stored.length };
  } catch (error) {
    await log.photos.remove(stored);
    throw explainStorage(error);
  } finally {
    zip.close();
  }
}

async function openArchive(path: string): Promise<ZipFile> {
  let bytes: Buffer;
  try {
    bytes = await readFile(path);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    const why = code === 'ENOENT' ? 'does not exist' : 'cannot be opened';
    throw new LogError('bad-archive', `The archive ${path} ${why}.`, { cause: error });
  }
  if (bytes.length > MAX_ARCHIVE_BYTES) throw broken('it is larger than 2 GB');
  return new Promise((resolve, reject) => {
    fromBuffer(bytes, { lazyEntries: true }, (error, zip) => {
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
      const ours = fileName === ARCHIVE_ENTRY || (photo !== undefined && PHOTO_FILE.test(photo));
      if (!ours || entries.has(fileName)) {
        reject(broken(`it holds "${fileName.slice(0, 80)}", which no export writes`));
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

async function recordsOf(zip: ZipFile, entries: ReadonlyMap<string, Entry>): Promise<Archive> {
  const entry = entries.get(ARCHIVE_ENTRY);
  if (!entry) throw broken('it was not made by an export of endwise');
  let value: unknown;
  try {
    value = JSON.parse((await contentOf(zip, entry, MAX_RECORD_BYTES)).toString('utf8'));
  } catch (error) {
    throw error instanceof LogError ? error : broken('its records are not JSON', error);
  }
  const { version } = value as { version?: unknown };
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

/** An entry's bytes; what a zip bomb claims, or inflates to, is cut off at the limit. */
async function contentOf(zip: ZipFile, entry: Entry, maxBytes: number): Promise<Buffer> {
  if (entry.uncompressedSize > maxBytes) throw broken(`"${entry.fileName}" is too large`);
  return new Promise((resolve, reject) => {
    const fail = (error: unknown) => reject(broken(`"${entry.fileName}" is damaged`, error));
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
}

function broken(why: string, cause?: unknown): LogError {
  return new LogError('bad-archive', `The archive cannot be imported: ${why}.`, { cause });
}
