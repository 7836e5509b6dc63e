import { explainStorage } from './explain-storage.ts';
import { isSound, openDatabase } from './open-database.ts';
import { PhotoFolder } from './photo-folder.ts';
import { readRecords } from './read-records.ts';
import { sqliteRows } from './sqlite-rows.ts';
import type { Storage, StorageOptions } from './storage.ts';

/** Of 4 KB, that a large write holds before it goes into the file, where others then wait to read. */
const PAGES_IN_MEMORY = 32_768;

/**
 * A log in one SQLite file of the data folder, with its photos in files beside it. A photo is written
 * before the row that names it.
 * @param folder made when it is not there
 * @throws LogError
 */
export async function openSqlite(folder: string, options: StorageOptions = {}): Promise<Storage> {
  const { db, connection, migrated } = await openDatabase(folder, options);
  const photos = new PhotoFolder(folder);
  try {
    await photos.incoming.forgetOld();
    const rows = await db.selectFrom('ends').select('photo_file').execute();
    const known = rows.flatMap(({ photo_file }) => (photo_file === null ? [] : [photo_file]));
    const tidied = await photos.tidy(new Set(known));
    return {
      photos,
      photoFolder: photos,
      tries: null,
      tidied,
      migrated,
      // In one transaction: an end and its arrows are two queries.
      read: (work) => explained(() => db.transaction().setAccessMode('read only').execute(work)),
      write: (work, { isLarge = false } = {}) => {
        if (isLarge) connection.pragma(`cache_spill = ${PAGES_IN_MEMORY}`);
        return explained(() => db.transaction().execute(work));
      },
      readRecords: (newVisitor) =>
        explained(() =>
          db
            .transaction()
            .setAccessMode('read only')
            .execute(async () => readRecords(sqliteRows(connection), await newVisitor())),
        ),
      isSound: () => Promise.resolve(isSound(connection)),
      close: async () => {
        await photos.close();
        await db.destroy();
      },
    };
  } catch (error) {
    await db.destroy();
    connection.close();
    throw explainStorage(error);
  }
}

async function explained<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    throw explainStorage(error);
  }
}
