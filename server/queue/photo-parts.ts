import { createWriteStream } from 'node:fs';
import { open } from 'node:fs/promises';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { sql, type Kysely } from 'kysely';
import { escapeLiteral, type ClientBase, type Pool, type PoolClient } from 'pg';
import { from as copyFrom } from 'pg-copy-streams';
import type { PhotoSource } from '../decode/photo-source.ts';
import { COPY_BEGIN, COPY_END, copiedRow, copyBytes, int32 } from '../log/copied-bytes.ts';
import { PHOTOS_OF_JOB, type PhotoOfJob, type ReadingJob } from '../reading/reading-job.ts';
import { SCHEMA, type QueueTables } from './queue-tables.ts';

/** Bytes of a row: several times a photo's size are never in memory at once. */
const PART_BYTES = 256 * 1024;
/** Rows of a copy: none takes as long as a whole photo may over a slow network. */
const PARTS_AT_ONCE = 16;
const WRITE_BYTES = 1024 * 1024;

/** The database, for queries and for copies. */
export interface QueueBase {
  readonly db: Kysely<QueueTables>;
  readonly pool: Pool;
  /** Queries by one connection of the pool. */
  readonly by: (client: PoolClient) => Kysely<QueueTables>;
}

/** Writes a job's photos into the table, within the transaction that the connection is in. */
export async function storePhotos(client: ClientBase, id: string, job: ReadingJob): Promise<void> {
  const copy = `COPY ${SCHEMA}.photo_part (reading_id, photo, place, bytes) FROM STDIN (FORMAT binary)`;
  const rows = rowsOf(id, job);
  try {
    for (let row = await rows.next(); row.done !== true;) {
      await pipeline(
        async function* () {
          yield COPY_BEGIN;
          for (let n = 0; n < PARTS_AT_ONCE && row.done !== true; n++) {
            yield* row.value;
            row = await rows.next();
          }
          yield COPY_END;
        },
        client.query(copyFrom(copy)),
      );
    }
  } finally {
    await rows.return();
  }
}

/** Each row in two pieces. */
async function* rowsOf(id: string, job: ReadingJob): AsyncGenerator<Uint8Array[], void> {
  const reading = Buffer.from(id.replaceAll('-', ''), 'hex');
  for (const photo of PHOTOS_OF_JOB) {
    const source = job[photo];
    if (source === undefined) continue;
    let place = 0;
    for await (const bytes of partsOf(source)) {
      const head = copiedRow([reading, Buffer.from(photo), int32(place++)], bytes.length);
      yield [head, bytes];
    }
  }
}

/**
 * Writes a job's photos into a folder, under names of our own.
 * @throws Error where somebody has deleted the reading meanwhile: half a photo is none
 */
export async function fetchPhotos(
  { db, pool }: QueueBase,
  id: string,
  folder: string,
): Promise<Partial<Record<PhotoOfJob, { path: string }>>> {
  const parts = await db
    .selectFrom('photo_part')
    .select([
      'photo',
      sql<number>`max(place)`.as('last'),
      sql<string>`sum(octet_length(bytes))`.as('length'),
    ])
    .where('reading_id', '=', id)
    .groupBy('photo')
    .execute();
  const sources: Partial<Record<PhotoOfJob, { path: string }>> = {};
  for (const { photo, last, length } of parts) {
    const path = join(folder, photo);
    // Several writes are made into one while the one before goes on.
    const file = createWriteStream(path, { flags: 'wx', mode: 0o600, highWaterMark: WRITE_BYTES });
    await pipeline(copied(pool, { id, photo, last }), file);
    if (file.bytesWritten !== Number(length)) {
      throw new Error('Parts of a photo are no longer in the database.');
    }
    sources[photo] = { path };
  }
  return sources;
}

async function* copied(
  pool: Pool,
  { id, photo, last }: { id: string; photo: string; last: number },
): AsyncIterable<Buffer> {
  for (let place = 0; place <= last; place += PARTS_AT_ONCE) {
    yield* copyBytes(
      pool,
      `SELECT bytes FROM ${SCHEMA}.photo_part WHERE reading_id = ${escapeLiteral(id)} ` +
        `AND photo = ${escapeLiteral(photo)} AND place >= ${place} AND place < ${place + PARTS_AT_ONCE} ` +
        'ORDER BY place',
    );
  }
}

async function* partsOf(source: PhotoSource): AsyncIterable<Uint8Array> {
  if ('bytes' in source) {
    for (let at = 0; at < source.bytes.length; at += PART_BYTES) {
      yield source.bytes.subarray(at, at + PART_BYTES);
    }
    return;
  }
  // By turns: one may still be on its way when the next is read. New ones for each part would have the
  // whole memory of the process looked through for what is left, again and again.
  const buffers = [Buffer.allocUnsafe(PART_BYTES), Buffer.allocUnsafe(PART_BYTES)] as const;
  const file = await open(source.path);
  try {
    for (let part = 0; ; part = 1 - part) {
      const { bytesRead, buffer } = await file.read(buffers[part as 0 | 1], 0, PART_BYTES);
      if (bytesRead === 0) return;
      yield buffer.subarray(0, bytesRead);
    }
  } finally {
    await file.close();
  }
}
