import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import { z } from 'zod';
import { readingSchema } from '../../src/reading/reading.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { endRecordSchema, type EndRecord } from '../state/end-record.ts';

/** A kept end: the corrected reading, who shot it, and whether the shared log has it. */
export const keptEndSchema = endRecordSchema.extend({
  reading: readingSchema,
  keptAt: z.iso.datetime(),
  /** Changes of an end that was kept already count up; the log takes each revision once. */
  revision: z.int().min(1),
  sentRevision: z.int().min(0),
});
export type KeptEnd = z.infer<typeof keptEndSchema>;

interface Shelves extends DBSchema {
  drafts: { key: string; value: EndRecord };
  ends: { key: string; value: KeptEnd };
  bows: { key: string; value: Bow };
  setUps: { key: string; value: SetUp; indexes: { bowId: string } };
  /** Photo bytes by end id; 'before:' + id for the photo from before the end, 'also:' + id for its
   * second one. */
  photos: { key: string; value: Blob };
}

let opening: Promise<IDBPDatabase<Shelves>> | undefined;

export function database(): Promise<IDBPDatabase<Shelves>> {
  opening ??= openDB<Shelves>('endwise', 1, {
    upgrade(db) {
      db.createObjectStore('drafts', { keyPath: 'id' });
      db.createObjectStore('ends', { keyPath: 'id' });
      db.createObjectStore('photos');
      db.createObjectStore('bows', { keyPath: 'id' });
      db.createObjectStore('setUps', { keyPath: 'id' }).createIndex('bowId', 'bowId');
    },
  });
  return opening;
}
