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

  async stored({ file, sha256: sent }: PhotoPlace): Promise<string | null> {
    const row = await this.#storage.read((tx) =>
      photosOf(tx)
        .selectFrom('photos')
        .select('sha256')
        .where('file', '=', file)
        .where('sent_sha256', '=', sent)
        .where('end_id', 'is', null)
        .executeTakeFirst(),
    );
    return row?.sha256 ?? null;
  }

  async store({ file, sha256: sent }: PhotoPlace, clean: Uint8Array): Promise<void> {
    const row = { file, end_id: null, sha256: sha256(clean), sent_sha256: sent, bytes: Buffer.from(clean) }; // prettier-ignore
    await this.#storage.write((tx) =>
      photosOf(tx)
        .insertInto('photos')
        .values(row)
        .onConflict((oc) => oc.column('file').doUpdateSet(row).where('photos.end_id', 'is', null))
        .execute(),
    );
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
