import type { Pool } from 'pg';
import { to as copyTo } from 'pg-copy-streams';

/** What a binary copy begins with, and how long all of it is that comes before the first row. */
const SIGNATURE = Buffer.from('PGCOPY\n\xff\r\n\0', 'latin1');
const BEFORE_ROWS = SIGNATURE.length + 8;
/** The beginning and the end of one that has no flags: its rows come between. */
export const COPY_BEGIN = Buffer.concat([SIGNATURE, Buffer.alloc(8)]);
export const COPY_END = Buffer.from([0xff, 0xff]);

/** The number of a row's columns, and the length of its only one. */
const BEFORE_COLUMN = 2 + 4;
const END = -1;

/**
 * The values of the one column of bytes that a query has, one after the other and as they arrive, by a connection
 * of its own. As PostgreSQL's binary copy: a query's answer would be text, twice as long, which both ends
 * would work on for longer than on all else.
 * @param select takes no parameters, as no copy does
 */
export async function* copyBytes(pool: Pool, select: string): AsyncIterable<Buffer> {
  const client = await pool.connect();
  let isWhole = false;
  try {
    yield* copiedBytes(client.query(copyTo(`COPY (${select}) TO STDOUT (FORMAT binary)`)));
    isWhole = true;
  } finally {
    // In the middle of a copy it answers nobody else.
    client.release(!isWhole);
  }
}

/**
 * The values of a column of bytes, one after the other and as they arrive, out of what PostgreSQL's `COPY (SELECT that
 * column ...) TO STDOUT (FORMAT binary)` sends (its manual, "COPY", "Binary Format").
 * @throws Error where that is something else, or breaks off
 */
export async function* copiedBytes(chunks: AsyncIterable<Buffer>): AsyncIterable<Buffer> {
  let rest: Buffer = Buffer.alloc(0);
  /** Of the value that is being passed on. */
  let left = 0;
  let isBegun = false;
  let isOver = false;
  for await (const chunk of chunks) {
    rest = rest.length === 0 ? chunk : Buffer.concat([rest, chunk]);
    if (!isBegun) {
      if (rest.length < BEFORE_ROWS) continue;
      const isPlain = rest.subarray(0, SIGNATURE.length).equals(SIGNATURE);
      // Nothing may come between, and none of the flags that make rows look otherwise.
      if (!isPlain || rest.readBigInt64BE(SIGNATURE.length) !== 0n) throw new Error(OTHER);
      rest = rest.subarray(BEFORE_ROWS);
      isBegun = true;
    }
    while (rest.length > 0 && !isOver) {
      if (left === 0) {
        if (rest.length < 2) break;
        const columns = rest.readInt16BE(0);
        isOver = columns === END;
        if (isOver) break;
        if (columns !== 1) throw new Error(OTHER);
        if (rest.length < BEFORE_COLUMN) break;
        left = rest.readInt32BE(2);
        if (left < 0) throw new Error(OTHER);
        rest = rest.subarray(BEFORE_COLUMN);
      }
      const bytes = rest.subarray(0, left);
      if (bytes.length > 0) yield bytes;
      left -= bytes.length;
      rest = rest.subarray(bytes.length);
    }
  }
  if (!isOver) throw new Error('What the database was sending broke off.');
}

/**
 * A row of columns as a binary copy has it.
 * @param length of the bytes of one more column that follow; none does where it is left out
 */
export function copiedRow(columns: readonly Uint8Array[], length?: number): Buffer {
  const number = Buffer.alloc(2);
  number.writeInt16BE(columns.length + (length === undefined ? 0 : 1));
  const fields = columns.flatMap((column) => [int32(column.length), column]);
  return Buffer.concat([number, ...fields, ...(length === undefined ? [] : [int32(length)])]);
}

/** A whole number as a column of type int has it. */
export function int32(number: number): Buffer {
  const bytes = Buffer.alloc(4);
  bytes.writeInt32BE(number);
  return bytes;
}

const OTHER = 'What the database sends is no copy of one column.';
