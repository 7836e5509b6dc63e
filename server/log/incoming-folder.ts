import { link, lstat, readFile, rename, rm } from 'node:fs/promises';
import { randomUUID } from 'node:crypto';
import { join } from 'node:path';
import { sha256, type IncomingPhoto, type IncomingPhotos, type PhotoPlace } from './photo-store.ts';
import { syncFolder, writeFileDurably } from '../files/write-file-durably.ts';

const LONG_AGO_MS = 7 * 24 * 3600_000;

/** Photos of an archive in a folder of their own, until their ends are kept. */
export class IncomingFolder implements IncomingPhotos {
  readonly #folder: string;
  /** Where photos of ends lie. */
  readonly #photos: string;

  constructor(folder: string, photos: string) {
    this.#folder = folder;
    this.#photos = photos;
  }

  async stored(sent: readonly PhotoPlace[]): Promise<ReadonlyMap<string, string>> {
    const kept = new Map<string, string>();
    for (const place of sent) {
      const bytes = await readFile(this.#path(place)).catch((error: NodeJS.ErrnoException) => {
        if (error.code === 'ENOENT') return null;
        throw error;
      });
      if (bytes !== null) kept.set(place.file, sha256(bytes));
    }
    return kept;
  }

  async store(photos: Parameters<IncomingPhotos['store']>[0]): Promise<void> {
    for (const { sent, clean } of photos) await writeFileDurably(this.#path(sent), clean);
  }

  async freeName({ file }: PhotoPlace): Promise<string> {
    const isFree = await lstat(join(this.#photos, file)).then(
      () => false,
      () => true,
    );
    return isFree ? file : `${randomUUID()}.jpg`;
  }

  async keepWith(_tx: unknown, photos: readonly IncomingPhoto[]): Promise<void> {
    for (const { sent, file } of photos)
      await linkOrMove(this.#path(sent), join(this.#photos, file));
    if (photos.length > 0) await syncFolder(this.#photos);
  }

  async takeBack(photos: readonly IncomingPhoto[]): Promise<void> {
    for (const { file } of photos) await rm(join(this.#photos, file), { force: true });
  }

  async forget(): Promise<void> {
    await rm(this.#folder, { recursive: true, force: true });
  }

  /** Removes what a try of long ago left: that archive will not be taken in any more. */
  async forgetOld(now = Date.now()): Promise<void> {
    const stats = await lstat(this.#folder).catch(() => null);
    if (stats !== null && now - stats.mtimeMs > LONG_AGO_MS) await this.forget();
  }

  /** Of one photo only, whatever archive it comes in. */
  #path({ file, sha256: sent }: PhotoPlace): string {
    return join(this.#folder, `${sent}-${file}`);
  }
}

/** A second name, so that the first stays for another try; file systems of memory cards know none. */
async function linkOrMove(from: string, to: string): Promise<void> {
  await link(from, to).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT' || error.code === 'EEXIST' || error.code === 'ENOSPC') throw error;
    return rename(from, to);
  });
}
