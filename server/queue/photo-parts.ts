import { createReadStream, createWriteStream } from 'node:fs';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import type { Kysely } from 'kysely';
import { escapeLiteral, type Pool } from 'pg';
import { to as copyTo } from 'pg-copy-streams';
import type { PhotoSource } from '../decode/photo-source.ts';
import { PHOTOS_OF_JOB, type PhotoOfJob, type ReadingJob } from '../reading/reading-job.ts';
import { copiedBytes } from './copied-bytes.ts';
import { SCHEMA, type QueueTables } from './queue-tables.ts';

/** Bytes of a row: several times a photo's size are never in memory at once. */
const PART_BYTES = 1024 * 1024;

type Tx = Kysely<QueueTables>;

/** The database, for queries and for copies. */
export interface QueueBase {
  readonly db: Kysely<QueueTables>;
  readonly pool: Pool;
}

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

/**
 * Writes a job's photos into a folder, under names of our own. They come as PostgreSQL's binary copies: a
 * query's answer would be text, twice as long, which both ends would work on for longer than on all else.
 */
export async function fetchPhotos(
  { db, pool }: QueueBase,
  id: string,
  folder: string,
): Promise<Partial<Record<PhotoOfJob, { path: string }>>> {
  const parts = await db
    .selectFrom('photo_part')
    .select(['photo', 'place'])
    .where('reading_id', '=', id)
    .orderBy('photo')
    .orderBy('place')
    .execute();
  const sources: Partial<Record<PhotoOfJob, { path: string }>> = {};
  for (const photo of new Set(parts.map((part) => part.photo))) {
    const path = join(folder, photo);
    const places = parts.filter((one) => one.photo === photo).map(({ place }) => place);
    await pipeline(
      copied(pool, { id, photo, places }),
      createWriteStream(path, { flags: 'wx', mode: 0o600 }),
    );
    sources[photo] = { path };
  }
  return sources;
}

/** One copy for each part: none takes as long as a whole photo may over a slow network. */
async function* copied(
  pool: Pool,
  { id, photo, places }: { id: string; photo: string; places: readonly number[] },
): AsyncIterable<Buffer> {
  const client = await pool.connect();
  let isWhole = false;
  try {
    for (const place of places) {
      // A copy takes no parameters.
      const part =
        `SELECT bytes FROM ${SCHEMA}.photo_part WHERE reading_id = ${escapeLiteral(id)} ` +
        `AND photo = ${escapeLiteral(photo)} AND place = ${place}`;
      const rows = client.query(copyTo(`COPY (${part}) TO STDOUT (FORMAT binary)`));
      let isThere = false;
      for await (const bytes of copiedBytes(rows)) {
        isThere = true;
        yield bytes;
      }
      // Somebody may have deleted the reading meanwhile: half a photo is none.
      if (!isThere) throw new Error(`Part ${place} of a photo is no longer in the database.`);
    }
    isWhole = true;
  } finally {
    // In the middle of a copy it answers nobody else.
    client.release(!isWhole);
  }
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
