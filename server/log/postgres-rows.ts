import { sql } from 'kysely';
import type { Row } from './from-rows.ts';
import { ROWS_OF_PAGE, type ReadRows, type RowSource } from './read-records.ts';
import type { Tx } from './storage.ts';
import type { Tables } from './tables.ts';

/** The rows of a log's database, by their ids. */
export function postgresRows(tx: Tx): RowSource {
  return {
    pages: (table) => pagesOf(tx, table),
    arrows: async (ends) => {
      const rows = await tx
        .selectFrom('arrows')
        .selectAll()
        .where('end_id', 'in', ends)
        .orderBy('end_id')
        .orderBy('place')
        .execute();
      return { rows, isWhole: true };
    },
  };
}

async function* pagesOf<T extends keyof Tables>(tx: Tx, table: T): AsyncGenerator<ReadRows<T>> {
  for (let last = ''; ;) {
    const { rows } = await sql<Row<T> & { readonly id: string }>`
      SELECT * FROM ${sql.table(table)} WHERE id > ${last} ORDER BY id LIMIT ${ROWS_OF_PAGE}
    `.execute(tx);
    if (rows.length === 0) return;
    last = rows.at(-1)!.id;
    yield { rows, isWhole: true };
  }
}
