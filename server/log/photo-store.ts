import { createHash, randomUUID } from 'node:crypto';
import { mkdir, readdir, readFile, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { PhotoCleaner } from '../decode/photo-cleaner.ts';
import { syncFolder, writeFileDurably } from './write-file-durably.ts';

/** A file without a row this old was left by a crash and is not about to be committed, ms. */
const ORPHAN_MS = 3600_000;

export interface StoredPhoto {
  readonly file: string;
  readonly sha256: string;
  /** Of the photo as it was sent. */
  readonly sourceSha256: string;
}

/** Photos beside the log, under names of our own, upright and without place, device or time. */
export class PhotoStore {
  readonly folder: string;
  readonly #cleaner = new PhotoCleaner();

  constructor(dataFolder: string) {
    this.folder = join(dataFolder, 'photos');
  }

  /**
   * Decodes a photo, which drops every tag it carried, and writes it durably.
   * @throws PhotoError for what is no photo
   */
  async add(bytes: Uint8Array): Promise<StoredPhoto> {
    const jpeg = await this.#cleaner.clean(bytes);
    const file = `${randomUUID()}.jpg`;
    await this.put(file, jpeg);
    return { file, sha256: sha256(jpeg), sourceSha256: sha256(bytes) };
  }

  async put(file: string, bytes: Uint8Array): Promise<void> {
    await writeFileDurably(join(this.folder, file), bytes);
  }

  close(): Promise<void> {
    return this.#cleaner.close();
  }

  read(file: string): Promise<Buffer> {
    return readFile(join(this.folder, file));
  }

  async remove(files: readonly string[]): Promise<void> {
    if (files.length === 0) return;
    await Promise.all(files.map((file) => rm(join(this.folder, file), { force: true })));
    await syncFolder(this.folder);
  }

  /** Removes what a crash left between writing a file and committing its row, or the reverse. */
  async removeOrphans(known: ReadonlySet<string>, now = Date.now()): Promise<void> {
    await mkdir(this.folder, { recursive: true, mode: 0o700 });
    const orphans: string[] = [];
    for (const file of await readdir(this.folder)) {
      if (known.has(file)) continue;
      const { mtimeMs } = await stat(join(this.folder, file));
      if (now - mtimeMs > ORPHAN_MS) orphans.push(file);
    }
    await this.remove(orphans);
  }
}

export function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
