import { open, stat } from 'node:fs/promises';
import type { ReadingRequest } from '../../src/request/request.ts';
import { ownTemporaryFolder, removeLeftovers } from '../files/temporary-folders.ts';
import { photoKind } from '../../src/photo-files/photo-kind.ts';
import { eveningRows } from './evening-rows.ts';
import { GatherError } from './gather-error.ts';
import { gatherFolder, type Gathered } from './gather-folder.ts';
import { gatherZip } from './gather-zip.ts';
import { misspeltColumns } from './misspelt-columns.ts';
import { readManifest, type ManifestRow } from './manifest.ts';

export interface Evening {
  readonly rows: readonly ManifestRow[];
  /** What was left out, each a sentence. */
  readonly leftOut: readonly string[];
  /** Removes what was unpacked. */
  readonly close: () => Promise<void>;
}

/**
 * Opens what a person hands over as an evening's photos: a manifest, a folder, or a zip archive.
 * @param about what holds for photos that no manifest tells of
 * @throws ManifestError, GatherError
 */
export async function openEvening(path: string, about: ReadingRequest): Promise<Evening> {
  const nothing = () => Promise.resolve();
  const what = await whatIs(path);
  if (what === 'manifest') {
    const rows = await readManifest(path);
    return { rows, leftOut: misspeltColumns(rows), close: nothing };
  }
  if (what === 'folder') {
    return { ...(await rowsOf(await gatherFolder(path), about)), close: nothing };
  }
  await removeLeftovers();
  const { path: unpacked, remove: close } = await ownTemporaryFolder('evening');
  try {
    return { ...(await rowsOf(await gatherZip(path, unpacked), about, { closed: true })), close };
  } catch (error) {
    await close();
    throw error;
  }
}

async function whatIs(path: string): Promise<'manifest' | 'folder' | 'zip'> {
  const stats = await stat(path).catch(() => null);
  if (stats?.isDirectory()) return 'folder';
  if (!stats?.isFile()) return 'manifest';
  const file = await open(path, 'r');
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(4), 0, 4, 0);
    return photoKind(buffer.subarray(0, bytesRead)).kind === 'zip archive' ? 'zip' : 'manifest';
  } finally {
    await file.close();
  }
}

async function rowsOf(
  { photos, manifest, leftOut }: Gathered,
  about: ReadingRequest,
  options: { closed?: boolean } = {},
) {
  const said = manifest === null ? [] : await readManifest(manifest);
  const rows = eveningRows(photos, said, about, options);
  if (rows.length === 0) {
    throw new GatherError(['There is no photo in it.', ...leftOut].join(' '));
  }
  return { rows, leftOut: [...leftOut, ...misspeltColumns(said)] };
}
