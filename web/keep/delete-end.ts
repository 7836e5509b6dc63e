import { openEnds, release } from '../open-ends/ends.ts';
import { database, type DeletedEnd } from '../store/database.ts';
import { handOver } from './hand-over.ts';

/** So long a deleted end can be put back, days. */
export const DELETED_DAYS = 30;
const DAY_MS = 24 * 3600_000;

/** Moves a kept end to those that can be put back; the log's one goes with the next handing over. */
export async function deleteEnd(id: string): Promise<void> {
  for (const open of openEnds.value) if (open.id === id) release(open);
  const shelves = ['ends', 'drafts', 'photos', 'deleted'] as const;
  const write = (await database()).transaction(shelves, 'readwrite');
  const end = await write.objectStore('ends').get(id);
  if (end === undefined) return;
  const photos: [string, Blob][] = [];
  for (const key of [id, `before:${id}`, `also:${id}`]) {
    const photo = await write.objectStore('photos').get(key);
    if (photo === undefined) continue;
    photos.push([key, photo]);
    await write.objectStore('photos').delete(key);
  }
  const inLog = end.sentRevision > 0;
  const deletedAt = new Date().toISOString();
  await write.objectStore('deleted').put({ id, end, photos, deletedAt, inLog });
  await write.objectStore('ends').delete(id);
  await write.objectStore('drafts').delete(id);
  await write.done;
  void handOver();
}

/** Puts a deleted end back as it was, and into the log again where it has gone from there. */
export async function putBack(id: string): Promise<void> {
  const write = (await database()).transaction(['ends', 'photos', 'deleted'], 'readwrite');
  const deleted = await write.objectStore('deleted').get(id);
  if (deleted === undefined) return;
  const { end, photos, inLog } = deleted;
  const sent = inLog ? {} : { sentRevision: 0, logVersion: null, conflict: null };
  await write.objectStore('ends').put({ ...end, ...sent });
  for (const [key, photo] of photos) await write.objectStore('photos').put(photo, key);
  await write.objectStore('deleted').delete(id);
  await write.done;
  void handOver();
}

/** Ends that can be put back, latest first; what was deleted long ago is gone for good. */
export async function deletedEnds(now = Date.now()): Promise<DeletedEnd[]> {
  const db = await database();
  const all = await db.getAll('deleted');
  const isOver = ({ deletedAt, inLog }: DeletedEnd) =>
    !inLog && now - Date.parse(deletedAt) > DELETED_DAYS * DAY_MS;
  for (const one of all) if (isOver(one)) await db.delete('deleted', one.id);
  return all.filter((one) => !isOver(one)).sort((a, b) => b.deletedAt.localeCompare(a.deletedAt));
}
