import { randomUUID } from 'node:crypto';
import { mkdir, open, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';

/** What a file is called while it is being written. */
export const PART_FILE = /^\.[0-9a-f-]{36}\.part$/;

/**
 * Writes a file so that after a power cut it is either whole or absent: a temporary file beside it is
 * synced, renamed over it, and the folder's entry is synced. (write-file-atomic leaves out the last,
 * without which a file that was said to be kept may be gone.)
 */
export async function writeFileDurably(path: string, content: Uint8Array | string): Promise<void> {
  const folder = dirname(path);
  await mkdir(folder, { recursive: true, mode: 0o700 });
  const temporary = join(folder, `.${randomUUID()}.part`);
  const file = await open(temporary, 'wx', 0o600);
  try {
    try {
      await file.writeFile(content);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(temporary, path);
  } catch (error) {
    await rm(temporary, { force: true });
    throw error;
  }
  await syncFolder(folder);
}

/** Makes renames and removals in a folder durable; Windows has no such call and needs none. */
export async function syncFolder(folder: string): Promise<void> {
  if (process.platform === 'win32') return;
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
