import { open, readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { isNamedAsPhoto, MAX_FILES } from '../../src/photo-files/files-of-people.ts';
import { exifHints } from '../decode/exif-hints.ts';
import { MAX_FILE_BYTES } from '../decode/limits.ts';
import { photoKind } from '../../src/photo-files/photo-kind.ts';
import { pictureFormat } from '../../src/photo-files/picture-formats.ts';
import { GatherError } from './gather-error.ts';

/** A photo to be read, found in a folder or an archive. */
export interface GatheredPhoto {
  /** With forward slashes, below the folder or within the archive. */
  readonly name: string;
  /** Where its bytes are. */
  readonly path: string;
  readonly takenAt?: string;
}

export interface Gathered {
  readonly photos: readonly GatheredPhoto[];
  /** A manifest that lies at the top, or null. */
  readonly manifest: string | null;
  /** What was left out, each a sentence. */
  readonly leftOut: readonly string[];
}

/** Deeper folders are not looked into. */
const MAX_DEPTH = 8;
/** EXIF lies within this of a JPEG's beginning. */
const HEAD_BYTES = 256 * 1024;

/**
 * The photos in a folder and the folders below it, told by their content. Links are not followed.
 * @throws GatherError
 */
export async function gatherFolder(folder: string): Promise<Gathered> {
  const counts = { links: 0, others: 0, files: 0 };
  const photos: GatheredPhoto[] = [];
  const visit = async (below: string, depth: number): Promise<void> => {
    const entries = await readdir(join(folder, below), { withFileTypes: true });
    for (const entry of entries.sort((a, b) => (a.name < b.name ? -1 : 1))) {
      if (entry.name.startsWith('.') || entry.name === '__MACOSX') continue;
      const name = below === '' ? entry.name : `${below}/${entry.name}`;
      if (entry.isSymbolicLink()) counts.links++;
      else if (entry.isDirectory() && depth < MAX_DEPTH) await visit(name, depth + 1);
      else if (entry.isFile()) {
        if (++counts.files > MAX_FILES) throw tooManyFiles();
        const photo = await photoAt(join(folder, name), name);
        if (photo !== null) photos.push(photo);
        else if (!/\.csv$/i.test(name)) counts.others++;
      }
    }
  };
  await visit('', 0);
  const manifest = join(folder, 'manifest.csv');
  const hasManifest = await stat(manifest).then(
    (found) => found.isFile(),
    () => false,
  );
  return {
    photos,
    manifest: hasManifest ? manifest : null,
    leftOut: [
      ...(counts.links > 0 ? [`Links were not followed: ${counts.links}.`] : []),
      ...(counts.others > 0 ? [`Files that are no photos were left out: ${counts.others}.`] : []),
    ],
  };
}

export function tooManyFiles(): GatherError {
  return new GatherError(
    `There are more than ${MAX_FILES} files: choose the evening's photos alone.`,
  );
}

/** A file as a photo with its time, or null where neither its content nor its name is one. */
export async function photoAt(path: string, name: string): Promise<GatheredPhoto | null> {
  const file = await open(path, 'r');
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(HEAD_BYTES), 0, HEAD_BYTES, 0);
    const head = buffer.subarray(0, bytesRead);
    const kind = photoKind(head);
    if (!kind.readable) return isNamedAsPhoto(name) ? { name, path } : null;
    const { size } = await file.stat();
    // A table of contents of boxes must be seen whole to be walked safely.
    const { hasBoxes } = pictureFormat(kind.kind);
    const whole = hasBoxes && size > HEAD_BYTES && size <= MAX_FILE_BYTES;
    const bytes = whole ? (await file.read(Buffer.alloc(size), 0, size, 0)).buffer : head;
    const { takenAt } = await exifHints(bytes, kind.kind);
    return { name, path, ...(takenAt === undefined ? {} : { takenAt }) };
  } finally {
    await file.close();
  }
}
