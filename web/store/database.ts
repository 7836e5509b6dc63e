import { MADE_UP_M } from '../../src/tuning/record/made-up-distance.ts';
import { words } from '../state/words.ts';
import {
  openDB,
  type DBSchema,
  type IDBPDatabase,
  type IDBPObjectStore,
  type StoreNames,
} from 'idb';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { announce } from '../state/announce.ts';
import type { EndRecord } from '../state/end-record.ts';
import type { KeptEnd } from './kept-end.ts';

export type { KeptEnd };

/** An end that was deleted, for as long as it can be put back. */
export interface DeletedEnd {
  readonly id: string;
  readonly end: KeptEnd;
  /** Its photos by their keys. */
  readonly photos: readonly (readonly [key: string, photo: Blob])[];
  readonly deletedAt: string;
  /** Whether the log still has it. */
  readonly inLog: boolean;
}

/** A bow or set-up as this device and the log last agreed on it. */
export interface InLog {
  /** 'bow' or 'set-up', and its id in the log. */
  readonly key: string;
  readonly what: 'bow' | 'set-up';
  readonly logId: string;
  /** Its id in the book of this device; the log has a bow that two people shoot once for each. */
  readonly ownId: string;
  readonly agreed: Bow | SetUp;
  /** What somebody else has made of it in the log, null where it is gone, until a person chooses. */
  readonly conflict: { readonly there: Bow | SetUp | null } | null;
}

interface Shelves extends DBSchema {
  drafts: { key: string; value: EndRecord };
  ends: { key: string; value: KeptEnd };
  bows: { key: string; value: Bow };
  setUps: { key: string; value: SetUp; indexes: { bowId: string } };
  /** Photo bytes by end id; 'before:' + id for the photo from before the end, 'also:' + id for its
   * second one. */
  photos: { key: string; value: Blob };
  deleted: { key: string; value: DeletedEnd };
  inLog: { key: string; value: InLog };
}

let opening: Promise<IDBPDatabase<Shelves>> | undefined;

export function database(): Promise<IDBPDatabase<Shelves>> {
  opening ??= openDB<Shelves>('endwise', 4, {
    upgrade(db, before, _now, transaction) {
      if (before < 4) db.createObjectStore('inLog', { keyPath: 'key' });
      if (before < 3) db.createObjectStore('deleted', { keyPath: 'id' });
      // What goes wrong in it aborts the transaction, and with it the opening.
      if (before === 1) void handOverUnsaidAnew(transaction.objectStore('ends'));
      if (before >= 1) return;
      db.createObjectStore('drafts', { keyPath: 'id' });
      db.createObjectStore('ends', { keyPath: 'id' });
      db.createObjectStore('photos');
      db.createObjectStore('bows', { keyPath: 'id' });
      db.createObjectStore('setUps', { keyPath: 'id' }).createIndex('bowId', 'bowId');
    },
    // Another tab has the page of an endwise to come: it must not wait for this one.
    blocking: (_now, _next, event) => (event.target as IDBDatabase).close(),
  });
  return opening;
}

/** Ends of which nobody had said the distance went to the log as of 18 m: it is to have them as they are. */
async function handOverUnsaidAnew(
  ends: IDBPObjectStore<Shelves, StoreNames<Shelves>[], 'ends', 'versionchange'>,
): Promise<void> {
  let count = 0;
  for (const end of await ends.getAll()) {
    if (end.settings.distanceM !== null || end.sentRevision === 0) continue;
    await ends.put({ ...end, revision: end.revision + 1 });
    count++;
  }
  if (count === 0) return;
  announce(
    words.value.count(
      count,
      '{n} end without a distance had gone to the log as of {distance}: handed over anew, without one.',
      '{n} ends without a distance had gone to the log as of {distance}: handed over anew, without one.',
      { distance: words.value.metres(MADE_UP_M) },
    ),
  );
}
