import { say } from '../state/words.ts';
import {
  isHidden,
  isNamedAsPhoto,
  isTrap,
  MAX_FILES,
} from '../../src/photo-files/files-of-people.ts';
import { unpack } from '../files/unpack.ts';
import { GatherProblem } from './gather-problem.ts';

export interface GatheredFile {
  /** With forward slashes, below what the person chose. */
  readonly path: string;
  readonly file: Blob;
}

export interface GatheredFiles {
  readonly photos: readonly GatheredFile[];
  /** What was left out, each a sentence. */
  readonly leftOut: readonly string[];
}

const MAX_PHOTO_BYTES = 64 * 1024 * 1024;
/** A browser unpacks in memory. */
const MAX_ARCHIVE_BYTES = 1024 ** 3;

/**
 * The photos among files, in folders' order, and in zip archives among them.
 * @throws GatherProblem
 */
export async function gatherFiles(
  files: readonly { readonly path: string; readonly file: File }[],
): Promise<GatheredFiles> {
  if (files.length > MAX_FILES) throw tooMany();
  const photos: GatheredFile[] = [];
  let others = 0;
  const leftOut: string[] = [];
  for (const { path, file } of files) {
    if (isHidden(path)) continue;
    if (isNamedAsPhoto(path)) photos.push({ path, file });
    else if (/\.zip$/i.test(path)) {
      const within = await gatherArchive(file);
      photos.push(...within.photos);
      leftOut.push(...within.leftOut);
    } else others++;
  }
  if (others > 0)
    leftOut.push(say('Files that are no photos were left out: {others}.', { others }));
  return { photos, leftOut };
}

async function gatherArchive(archive: File): Promise<GatheredFiles> {
  if (archive.size > MAX_ARCHIVE_BYTES) {
    throw new GatherProblem(
      say('The archive is larger than 1 GB: unpack it and choose the folder.'),
    );
  }
  const bytes = new Uint8Array(await archive.arrayBuffer());
  let seen = 0;
  let others = 0;
  let unpackedBytes = 0;
  let problem: GatherProblem | null = null;
  const wanted = ({
    name,
    size,
    originalSize,
  }: {
    name: string;
    size: number;
    originalSize: number;
  }) => {
    if (problem || name.endsWith('/') || isHidden(name)) return false;
    if (++seen > MAX_FILES) problem = tooMany();
    if (!isNamedAsPhoto(name) || originalSize > MAX_PHOTO_BYTES) {
      others++;
      return false;
    }
    unpackedBytes += originalSize;
    if (isTrap({ packed: size, unpacked: originalSize })) {
      problem = new GatherProblem(
        say('"{file}" inflates as no photo does: the archive was refused.', {
          file: name.slice(0, 80),
        }),
      );
    } else if (unpackedBytes > 2 * MAX_ARCHIVE_BYTES) {
      problem = new GatherProblem(say('The archive unpacks to more than 2 GB: split it.'));
    }
    return problem === null;
  };
  const unpacked = await unpack(bytes, wanted).catch(() => {
    throw new GatherProblem(say('The file is no zip archive, or a damaged one.'));
  });
  if (problem) throw problem as GatherProblem;
  return {
    photos: Object.entries(unpacked).map(([path, content]) => ({
      path,
      file: new Blob([content as Uint8Array<ArrayBuffer>], { type: 'image/*' }),
    })),
    leftOut:
      others > 0
        ? [say('Files in the archive that are no photos were left out: {others}.', { others })]
        : [],
  };
}

function tooMany(): GatherProblem {
  return new GatherProblem(
    say("There are more than {most} files: choose the evening's alone.", { most: MAX_FILES }),
  );
}

/** The files that were dropped, with those in dropped folders. */
export async function droppedFiles(
  transfer: DataTransfer,
): Promise<{ readonly path: string; readonly file: File }[]> {
  const entries = [...transfer.items].flatMap((item) => item.webkitGetAsEntry() ?? []);
  const found: { path: string; file: File }[] = [];
  const visit = async (entry: FileSystemEntry, below: string): Promise<void> => {
    if (found.length > MAX_FILES) throw tooMany();
    const path = below === '' ? entry.name : `${below}/${entry.name}`;
    if (entry.isFile) {
      const file = await new Promise<File>((resolve, reject) =>
        (entry as FileSystemFileEntry).file(resolve, reject),
      );
      found.push({ path, file });
      return;
    }
    const reader = (entry as FileSystemDirectoryEntry).createReader();
    for (;;) {
      // A reader hands out a hundred at a time.
      const some = await new Promise<FileSystemEntry[]>((resolve, reject) =>
        reader.readEntries(resolve, reject),
      );
      if (some.length === 0) return;
      for (const each of some) await visit(each, path);
    }
  };
  // A single dropped folder is the evening itself: its own name says nothing of archers.
  const [only] = entries;
  if (entries.length === 1 && only!.isDirectory) {
    await visit(only!, '');
    return found.map(({ path, file }) => ({ path: path.slice(only!.name.length + 1), file }));
  }
  for (const entry of entries) await visit(entry, '');
  return found;
}
