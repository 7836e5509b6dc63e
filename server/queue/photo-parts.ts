import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import { join } from 'node:path';
import type { Kysely } from 'kysely';
import type { PhotoSource } from '../decode/photo-source.ts';
import { PHOTOS_OF_JOB, type PhotoOfJob, type ReadingJob } from '../reading/reading-job.ts';
import type { QueueTables } from './queue-tables.ts';

/** Bytes of a row: several times a photo's size are never in memory at once. */
const PART_BYTES = 1024 * 1024;

type Tx = Kysely<QueueTables>;

/** Writes a job's photos into the table. */
export async function storePhotos(tx: Tx, id: string, job: ReadingJob): Promise<void> {
  for (const photo of PHOTOS_OF_JOB) {
    const source = job[photo];
    if (source === undefined) continue;
    let place = 0;
    for await (const bytes of partsOf(source)) {
      await tx.insertInto('photo_part').values({ reading_id: id, photo, place, bytes }).execute();
      place++;
    }
  }
}

/** Writes a job's photos into a folder, under names of our own. */
export async function fetchPhotos(
  db: Tx,
  id: string,
  folder: string,
): Promise<Partial<Record<PhotoOfJob, { path: string }>>> {
  const places = await db
    .selectFrom('photo_part')
    .select(['photo', 'place'])
    .where('reading_id', '=', id)
    .orderBy('photo')
    .orderBy('place')
    .execute();
  const sources: Partial<Record<PhotoOfJob, { path: string }>> = {};
  for (const photo of new Set(places.map((part) => part.photo))) {
    const path = join(folder, photo);
    const file = await open(path, 'wx', 0o600);
    try {
      for (const part of places.filter((one) => one.photo === photo)) {
        const { bytes } = await db
          .selectFrom('photo_part')
          .select('bytes')
          .where('reading_id', '=', id)
          .where('photo', '=', photo)
          .where('place', '=', part.place)
          .executeTakeFirstOrThrow();
        await file.writeFile(bytes);
      }
    } finally {
      await file.close();
    }
    sources[photo] = { path };
  }
  return sources;
}

async function* partsOf(source: PhotoSource): AsyncIterable<Uint8Array> {
  if ('path' in source) {
    yield* createReadStream(source.path, { highWaterMark: PART_BYTES }) as AsyncIterable<Buffer>;
    return;
  }
  for (let at = 0; at < source.bytes.length; at += PART_BYTES) {
    yield source.bytes.subarray(at, at + PART_BYTES);
  }
}
