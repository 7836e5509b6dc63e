/** What a binary copy begins with, and how long all of it is that comes before the first row. */
const SIGNATURE = Buffer.from('PGCOPY\n\xff\r\n\0', 'latin1');
const BEFORE_ROWS = SIGNATURE.length + 8;

/** The number of a row's columns, and the length of its only one. */
const BEFORE_COLUMN = 2 + 4;
const END = -1;

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

const OTHER = 'What the database sends is no copy of one column.';
