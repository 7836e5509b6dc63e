import { randomUUID } from 'node:crypto';
import { lstat, mkdir, readdir, readFile, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { explainStorage } from './explain-storage.ts';
import { PhotoCleaner } from '../decode/photo-cleaner.ts';
import type { PhotoSource } from '../decode/photo-source.ts';
import { damagedPhoto, missingPhoto, sha256, type PhotoPlace, type PhotoStore, type PreparedPhoto } from './photo-store.ts'; // prettier-ignore
import { IncomingFolder } from './incoming-folder.ts';
import { PART_FILE, syncFolder } from '../files/write-file-durably.ts';

/** A file without an end this old is not about to get one: its end is committed within seconds. */
const SETTLED_MS = 3600_000;

export interface Tidied {
  /** Photos that no end of the log names, put into the folder beside. */
  readonly putAside: readonly string[];
  /** Photos that lay there and that an end names. */
  readonly takenBack: readonly string[];
}

/** Photos beside the log, under names of our own, upright and without place, device or time. */
export class PhotoFolder implements PhotoStore {
  readonly folder: string;
  /** Photos that no end names: of a log that was moved away, or left by a crash. */
  readonly asideFolder: string;
  readonly incoming: IncomingFolder;
  readonly #cleaner = new PhotoCleaner();

  constructor(dataFolder: string) {
    this.folder = join(dataFolder, 'photos');
    this.incoming = new IncomingFolder(join(dataFolder, 'incoming-photos'), this.folder);
    this.asideFolder = join(dataFolder, 'photos-without-end');
  }

  /**
   * Decodes a photo, which drops every tag it carried, and writes it durably.
   * @throws PhotoError for what is no photo; LogError where the disk would not have it
   */
  async prepare(photo: PhotoSource): Promise<PreparedPhoto> {
    const file = `${randomUUID()}.jpg`;
    const cleaned = await this.#cleaner
      .clean(photo, join(this.folder, file))
      .catch((error: unknown) => {
        throw explainStorage(error);
      });
    return {
      file,
      ...cleaned,
      // It lies there already, and nothing asks for it until its end is there.
      keepWith: () => Promise.resolve(),
      discard: () => this.remove([file]),
    };
  }

  close(): Promise<void> {
    return this.#cleaner.close();
  }

  read(file: string): Promise<Buffer> {
    return readFile(join(this.folder, file));
  }

  /** @throws LogError where the file is gone, or no longer what was kept */
  async readSound({ file, sha256: kept }: PhotoPlace): Promise<Buffer> {
    const bytes = await this.read(file).catch((cause: unknown) => {
      throw missingPhoto(
        `The file of this photo, ${file}, is missing from the log's folder of photos: put it back there.`,
        cause,
      );
    });
    if (sha256(bytes) !== kept) throw damagedPhoto(file);
    return bytes;
  }

  async remove(files: readonly string[]): Promise<void> {
    if (files.length === 0) return;
    await Promise.all(files.map((file) => rm(join(this.folder, file), { force: true })));
    await syncFolder(this.folder);
  }

  /**
   * Puts photos that no end names into a folder beside, and takes those back that one names. None is
   * ever deleted for want of a row: the rows may lie in a log that was moved away.
   * @param known files that ends name
   */
  async tidy(known: ReadonlySet<string>, now = Date.now()): Promise<Tidied> {
    await mkdir(this.folder, { recursive: true, mode: 0o700 });
    const there = new Set(await readdir(this.folder));
    const putAside: string[] = [];
    for (const file of there) {
      if (known.has(file)) continue;
      const path = join(this.folder, file);
      const stats = await lstat(path).catch(() => null);
      if (!stats?.isFile() || now - stats.mtimeMs <= SETTLED_MS) continue;
      // What is being written is no photo yet.
      if (PART_FILE.test(file)) await rm(path, { force: true });
      else putAside.push(file);
    }
    const takenBack = (await this.aside()).filter((file) => known.has(file) && !there.has(file));
    if (putAside.length > 0) await mkdir(this.asideFolder, { recursive: true, mode: 0o700 });
    for (const file of putAside) await rename(join(this.folder, file), await this.#freeName(file));
    for (const file of takenBack) {
      await rename(join(this.asideFolder, file), join(this.folder, file));
    }
    if (putAside.length + takenBack.length > 0) {
      await syncFolder(this.folder);
      await syncFolder(this.asideFolder);
    }
    return { putAside, takenBack };
  }

  /** The files in the folder beside. */
  async aside(): Promise<string[]> {
    return readdir(this.asideFolder).catch((error: NodeJS.ErrnoException) => {
      if (error.code === 'ENOENT') return [];
      throw error;
    });
  }

  /**
   * Takes back from the folder beside what ends miss, told by its content: a name may have changed.
   * @returns files that ends have again
   */
  async takeBack(wanted: readonly PhotoPlace[]): Promise<string[]> {
    const missing = new Map<string, string>();
    for (const place of wanted) {
      const sound = await this.readSound(place).then(
        () => true,
        () => false,
      );
      if (!sound) missing.set(place.sha256, place.file);
    }
    const back: string[] = [];
    for (const name of missing.size === 0 ? [] : await this.aside()) {
      const from = join(this.asideFolder, name);
      const file = missing.get(sha256(await readFile(from)));
      if (file === undefined) continue;
      const to = join(this.folder, file);
      if (await isThere(to)) {
        await rename(to, await this.#freeName(`damaged-${file}`));
      }
      await rename(from, to);
      back.push(file);
    }
    await syncFolder(this.folder);
    return back;
  }

  async #freeName(file: string): Promise<string> {
    for (let number = 0; ; number++) {
      const path = join(this.asideFolder, number === 0 ? file : `${number}-${file}`);
      if (!(await isThere(path))) return path;
    }
  }
}

function isThere(path: string): Promise<boolean> {
  return lstat(path).then(
    () => true,
    () => false,
  );
}
