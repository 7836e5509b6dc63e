import { randomUUID } from 'node:crypto';
import { readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Insertable } from 'kysely';
import { escapeLiteral } from 'pg';
import { PhotoCleaner } from '../decode/photo-cleaner.ts';
import type { PhotoSource } from '../decode/photo-source.ts';
import { ownTemporaryFolder, type TemporaryFolder } from '../files/temporary-folders.ts';
import { explainStorage } from './explain-storage.ts';
import {
  damagedPhoto,
  missingPhoto,
  sha256,
  type PhotoPlace,
  type PhotoStore,
  type PreparedPhoto,
} from './photo-store.ts';
import { IncomingTable } from './incoming-table.ts';
import { photosOf, type PostgresOnlyTables } from './postgres-tables.ts';
import type { Storage, Tx } from './storage.ts';

/** Photos in a table of the database: committed with the rows of their ends, and gone with them. */
export class PhotoTable implements PhotoStore {
  readonly incoming: IncomingTable;
  readonly #bytesOf: (select: string) => Promise<Buffer>;
  readonly #cleaner = new PhotoCleaner();
  #folder: Promise<TemporaryFolder> | null = null;

  /** @param bytesOf the values of a query's one column of bytes, together */
  constructor(
    storage: Pick<Storage, 'read' | 'write'>,
    bytesOf: (select: string) => Promise<Buffer>,
  ) {
    this.#bytesOf = bytesOf;
    this.incoming = new IncomingTable(storage);
  }

  async prepare(photo: PhotoSource): Promise<PreparedPhoto> {
    this.#folder ??= ownTemporaryFolder('photos');
    const file = `${randomUUID()}.jpg`;
    const path = join((await this.#folder).path, file);
    try {
      const cleaned = await this.#cleaner.clean(photo, path);
      const bytes = await readFile(path);
      return {
        file,
        ...cleaned,
        keepWith: (tx, endId) =>
          put(tx, { file, end_id: endId, sha256: cleaned.sha256, sent_sha256: null, bytes }),
        discard: () => Promise.resolve(),
      };
    } catch (error) {
      throw explainStorage(error);
    } finally {
      await rm(path, { force: true });
    }
  }

  async read(file: string): Promise<Buffer> {
    // No transaction: of one name there never is but one photo.
    const bytes = await this.#bytesOf(
      `SELECT bytes FROM photos WHERE file = ${escapeLiteral(file)}`,
    );
    if (bytes.length === 0) throw missingPhoto(`The photo ${file} is missing from the database.`);
    return bytes;
  }

  async readSound({ file, sha256: kept }: PhotoPlace): Promise<Buffer> {
    const bytes = await this.read(file);
    if (sha256(bytes) !== kept) throw damagedPhoto(file);
    return bytes;
  }

  /** They went with the rows of their ends. */
  remove(): Promise<void> {
    return Promise.resolve();
  }

  async close(): Promise<void> {
    await this.#cleaner.close();
    await (await this.#folder)?.remove();
  }
}

/** In the place of the photo that the end had. */
async function put(tx: Tx, row: Insertable<PostgresOnlyTables['photos']>): Promise<void> {
  const db = photosOf(tx);
  await db.deleteFrom('photos').where('end_id', '=', row.end_id!).execute();
  await db.insertInto('photos').values(row).execute();
}
