import type Database from 'better-sqlite3';
import type { RowSource } from './read-what-is-there.ts';

/** The rows of a log's file; of a damaged table from both sides up to where it cannot be read. */
export function sqliteRows(connection: Database.Database): RowSource {
  return (table, order) => Promise.resolve(rowsOf(connection, table, order.join(', ')));
}

function rowsOf<T>(
  connection: Database.Database,
  table: string,
  order: string,
): { rows: T[]; isWhole: boolean } {
  try {
    const rows = connection.prepare(`SELECT * FROM ${table} ORDER BY ${order}`).all() as T[];
    return { rows, isWhole: true };
  } catch {
    // Below, without an order: that would need the whole table.
  }
  const key = (row: T) => JSON.stringify(row);
  const found = new Map<string, T>();
  const columns = table === 'arrows' ? ['end_id', 'place'] : ['rowid'];
  for (const way of ['ASC', 'DESC']) {
    const by = columns.map((name) => `${name} ${way}`).join(', ');
    try {
      const query = connection.prepare(`SELECT * FROM ${table} ORDER BY ${by}`);
      for (const row of query.iterate() as IterableIterator<T>) found.set(key(row), row);
    } catch {
      continue;
    }
  }
  return { rows: [...found.values()], isWhole: false };
}
