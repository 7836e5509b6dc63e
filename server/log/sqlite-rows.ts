import type Database from 'better-sqlite3';
import type { Row } from './from-rows.ts';
import { ROWS_OF_PAGE, type ReadRows, type RowSource } from './read-records.ts';
import type { Tables } from './tables.ts';

/** The rows of a log's file; of a damaged table from both sides up to where it cannot be read. */
export function sqliteRows(connection: Database.Database): RowSource {
  let ofDamaged: readonly Row<'arrows'>[] | null = null;
  return {
    pages: (table) => pagesOf(connection, table),
    arrows: (ends) => {
      if (ofDamaged === null) {
        try {
          const places = ends.map(() => '?').join();
          const rows = connection
            .prepare(`SELECT * FROM arrows WHERE end_id IN (${places}) ORDER BY end_id, place`)
            .all(...ends) as Row<'arrows'>[];
          return Promise.resolve({ rows, isWhole: true });
        } catch {
          const found = fromBothSides<Row<'arrows'>>(connection, 'arrows', ['end_id', 'place']);
          ofDamaged = found.sort((a, b) => a.place - b.place);
        }
      }
      return Promise.resolve({ rows: ofDamaged, isWhole: false });
    },
  };
}

/** By their places in the table itself: an index may be damaged, too. */
// eslint-disable-next-line @typescript-eslint/require-await -- reading a file does not wait
async function* pagesOf<T extends keyof Tables>(
  connection: Database.Database,
  table: T,
): AsyncGenerator<ReadRows<T>> {
  for (let last = 0; ;) {
    let found: (Row<T> & { readonly place_in_table: number })[];
    try {
      found = connection
        .prepare(
          `SELECT rowid AS place_in_table, * FROM ${table} WHERE rowid > ? ORDER BY rowid LIMIT ?`,
        )
        .all(last, ROWS_OF_PAGE) as typeof found;
    } catch {
      const rest = `${table} WHERE rowid > ${last}`;
      yield { rows: fromBothSides<Row<T>>(connection, rest, ['rowid']), isWhole: false };
      return;
    }
    if (found.length === 0) return;
    last = found.at(-1)!.place_in_table;
    const rows = found.map(({ place_in_table: _, ...row }) => row as unknown as Row<T>);
    yield { rows, isWhole: true };
  }
}

/** All that can be read from one end and from the other. @param from what stands after FROM */
function fromBothSides<T>(
  connection: Database.Database,
  from: string,
  columns: readonly string[],
): T[] {
  const found = new Map<string, T>();
  for (const way of ['ASC', 'DESC']) {
    const by = columns.map((name) => `${name} ${way}`).join(', ');
    try {
      const query = connection.prepare(`SELECT * FROM ${from} ORDER BY ${by}`);
      for (const row of query.iterate() as IterableIterator<T>) found.set(JSON.stringify(row), row);
    } catch {
      continue;
    }
  }
  return [...found.values()];
}
