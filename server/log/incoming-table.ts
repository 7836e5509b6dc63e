import { sql } from 'kysely';
import type { IncomingPhoto, IncomingPhotos, PhotoPlace } from './photo-store.ts';
import { sha256 } from './photo-store.ts';
import { photosOf } from './postgres-tables.ts';
import type { Storage, Tx } from './storage.ts';

/** Photos that are given to their ends in one statement. */
const AT_ONCE = 500;

/** Photos of an archive in the table of photos, of no end until theirs are kept. */
export class IncomingTable implements IncomingPhotos {
  readonly #storage: Pick<Storage, 'read' | 'write'>;

  constructor(storage: Pick<Storage, 'read' | 'write'>) {
    this.#storage = storage;
  }

  async stored(sent: readonly PhotoPlace[]): Promise<ReadonlyMap<string, string>> {
    const rows = await this.#storage.read((tx) =>
      photosOf(tx)
        .selectFrom('photos')
        .select(['file', 'sha256', 'sent_sha256'])
        .where(
          'file',
          'in',
          sent.map(({ file }) => file),
        )
        .where('end_id', 'is', null)
        .execute(),
    );
    const hashes = new Map(sent.map((place) => [place.file, place.sha256]));
    const same = rows.filter((row) => row.sent_sha256 === hashes.get(row.file));
    return new Map(same.map((row) => [row.file, row.sha256]));
  }

  async store(photos: Parameters<IncomingPhotos['store']>[0]): Promise<void> {
    await this.#storage.write(async (tx) => {
      for (const { sent, clean } of photos) {
        const row = { file: sent.file, end_id: null, sha256: sha256(clean), sent_sha256: sent.sha256, bytes: Buffer.from(clean) }; // prettier-ignore
        await photosOf(tx)
          .insertInto('photos')
          .values(row)
          .onConflict((oc) => oc.column('file').doUpdateSet(row).where('photos.end_id', 'is', null))
          .execute();
      }
    });
  }

  /** Only an empty log takes an archive in: no photo there is called like it. */
  freeName({ file }: PhotoPlace): Promise<string> {
    return Promise.resolve(file);
  }

  async keepWith(tx: Tx, photos: readonly IncomingPhoto[]): Promise<void> {
    for (let from = 0; from < photos.length; from += AT_ONCE) {
      const some = photos.slice(from, from + AT_ONCE);
      const pairs = sql.join(some.map(({ file, endId }) => sql`(${file}, ${endId})`));
      await sql`
        UPDATE photos SET end_id = of.end_id, sent_sha256 = NULL
        FROM (VALUES ${pairs}) AS of (file, end_id) WHERE photos.file = of.file`.execute(tx);
    }
  }

  /** They were given to their ends in the transaction that was not made. */
  takeBack(): Promise<void> {
    return Promise.resolve();
  }

  async forget(): Promise<void> {
    await this.#storage.write((tx) =>
      photosOf(tx).deleteFrom('photos').where('end_id', 'is', null).execute(),
    );
  }
}
