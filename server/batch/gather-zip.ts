import { createWriteStream } from 'node:fs';
import { rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { open as openZip, type Entry, type ZipFile } from 'yauzl';
import {
  isHidden,
  isNamedAsPhoto,
  isTrap,
  MAX_FILES,
  MAX_RATIO,
} from '../../src/photo-files/files-of-people.ts';
import { MAX_FILE_BYTES } from '../decode/limits.ts';
import { photoKind } from '../../src/photo-files/photo-kind.ts';
import { GatherError } from './gather-error.ts';
import { photoAt, tooManyFiles, type Gathered, type GatheredPhoto } from './gather-folder.ts';

/** All that is unpacked together, bytes: some five hundred large photos. */
const MAX_UNPACKED_BYTES = 8 * 1024 ** 3;
/** Enough of an entry to tell what it is. */
const HEAD_BYTES = 4100;
/** A PNG of one pixel has 67 bytes, and the others need more. */
const SMALLEST_PHOTO_BYTES = 64;
const MAX_MANIFEST_BYTES = 8 * 1024 * 1024;

/**
 * Unpacks the photos of a zip file, told by their content, into a folder under names of our own: the
 * names in the archive only name results. Archives within it, links and other files are left out.
 * @param into an empty folder that the caller removes
 * @throws GatherError
 */
export async function gatherZip(path: string, into: string): Promise<Gathered> {
  const zip = await opened(path);
  const photos: GatheredPhoto[] = [];
  const counts = { links: 0, archives: 0, others: 0, tooLarge: 0, locked: 0 };
  let manifest: string | null = null;
  let unpackedBytes = 0;
  let entries = 0;
  try {
    if (zip.entryCount > MAX_FILES) throw tooManyFiles();
    for await (const entry of entriesOf(zip)) {
      if (++entries > MAX_FILES) throw tooManyFiles();
      const name = entry.fileName;
      if (name.endsWith('/') || isHidden(name)) continue;
      if (isLink(entry)) {
        counts.links++;
        continue;
      }
      if (entry.isEncrypted()) {
        counts.locked++;
        continue;
      }
      const isManifest = name === 'manifest.csv';
      const limit = isManifest ? MAX_MANIFEST_BYTES : MAX_FILE_BYTES;
      if (entry.uncompressedSize > limit) {
        counts.tooLarge++;
        continue;
      }
      if (isTrap({ packed: entry.compressedSize, unpacked: entry.uncompressedSize }))
        throw trap(name);
      if (entry.uncompressedSize < SMALLEST_PHOTO_BYTES && !isManifest && !isNamedAsPhoto(name)) {
        counts.others++;
        continue;
      }
      const kind = isManifest ? null : photoKind(await headOf(zip, entry));
      if (kind !== null && !kind.readable && !isNamedAsPhoto(name)) {
        if (kind.kind === 'zip archive') counts.archives++;
        else counts.others++;
        continue;
      }
      unpackedBytes += entry.uncompressedSize;
      if (unpackedBytes > MAX_UNPACKED_BYTES) {
        throw new GatherError('The archive unpacks to more than 8 GB: split it.');
      }
      const target = join(into, isManifest ? 'manifest.csv' : `${entries}`);
      await unpack(zip, entry, target);
      if (isManifest) manifest = target;
      else photos.push((await photoAt(target, name))!);
    }
  } finally {
    zip.close();
  }
  return { photos, manifest, leftOut: sentences(counts) };
}

function sentences(counts: Record<string, number>): string[] {
  const words: Record<string, string> = {
    links: 'Links in the archive were not followed',
    archives: 'Archives within the archive were left out, unpack them first',
    others: 'Files that are no photos were left out',
    tooLarge: `Files larger than ${MAX_FILE_BYTES / 1024 / 1024} MB were left out`,
    locked: 'Files locked with a password were left out',
  };
  return Object.entries(words).flatMap(([key, text]) =>
    counts[key]! > 0 ? [`${text}: ${counts[key]}.`] : [],
  );
}

async function opened(path: string): Promise<ZipFile> {
  const { size } = await stat(path);
  if (size === 0) throw new GatherError('The archive is empty: copy it again.');
  return new Promise((resolve, reject) => {
    openZip(path, { lazyEntries: true, autoClose: false }, (error, zip) => {
      if (error) reject(damaged(error));
      else resolve(zip);
    });
  });
}

/** One entry after another; the next is looked up when the last has been dealt with. */
async function* entriesOf(zip: ZipFile): AsyncGenerator<Entry> {
  let found: (entry: Entry | null) => void = () => undefined;
  let failed: (error: Error) => void = () => undefined;
  zip.on('entry', (entry: Entry) => found(entry));
  zip.on('end', () => found(null));
  zip.on('error', (error: Error) => failed(damaged(error)));
  for (;;) {
    const entry = await new Promise<Entry | null>((resolve, reject) => {
      found = resolve;
      failed = reject;
      zip.readEntry();
    });
    if (entry === null) return;
    yield entry;
  }
}

/** A link as Unix writes it into an archive. */
function isLink(entry: Entry): boolean {
  return ((entry.externalFileAttributes >>> 16) & 0xf000) === 0xa000;
}

async function headOf(zip: ZipFile, entry: Entry): Promise<Buffer> {
  const stream = await streamOf(zip, entry);
  const chunks: Buffer[] = [];
  let length = 0;
  try {
    for await (const chunk of stream as AsyncIterable<Buffer>) {
      chunks.push(chunk);
      length += chunk.length;
      if (length >= HEAD_BYTES) break;
    }
  } catch (error) {
    throw damaged(error, entry);
  } finally {
    stream.destroy();
  }
  return Buffer.concat(chunks);
}

/** An entry's declared size is enforced by the reader while it inflates. */
async function unpack(zip: ZipFile, entry: Entry, target: string): Promise<void> {
  try {
    await pipeline(await streamOf(zip, entry), createWriteStream(target, { mode: 0o600 }));
  } catch (error) {
    await rm(target, { force: true });
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'ENOSPC') throw new GatherError('The disk is full: make room and start again.');
    throw damaged(error, entry);
  }
}

function streamOf(zip: ZipFile, entry: Entry): Promise<Readable> {
  return new Promise((resolve, reject) => {
    zip.openReadStream(entry, (error, stream) => {
      if (error) reject(damaged(error, entry));
      else resolve(stream);
    });
  });
}

function damaged(cause: unknown, entry?: Entry): GatherError {
  if (cause instanceof GatherError) return cause;
  const { message } = cause as Error;
  if (/relative path|absolute path|invalid characters/i.test(message)) return leadsOutside();
  const where = entry === undefined ? '' : ` at "${entry.fileName.slice(0, 80)}"`;
  return new GatherError(
    `The file is no zip archive, or a damaged one${where}: make it again, or choose the folder.`,
    { cause },
  );
}

function leadsOutside(): GatherError {
  return new GatherError(
    'The archive names places outside itself, which no ordinary program writes: it was refused.',
  );
}

function trap(name: string): GatherError {
  return new GatherError(
    `"${name.slice(0, 80)}" in the archive inflates to over ${MAX_RATIO} times its size, which no ` +
      'photo does: it was refused.',
  );
}
