import { Client } from 'pg';

/** What the tables of a log take with their indexes: for each end, and of photos for each photo. */
export async function tableSizes(address: string, ends: number, photos: number): Promise<void> {
  const client = new Client({ connectionString: address });
  await client.connect();
  const { rows } = await client.query<{ table: string; all: number; indexes: number }>(
    `SELECT relname AS table, pg_total_relation_size(oid)::float8 AS all, pg_indexes_size(oid)::float8 AS indexes
     FROM pg_class WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace ORDER BY 2 DESC LIMIT 6`,
  );
  await client.end();
  for (const { table, all, indexes } of rows) {
    const things = table === 'photos' ? photos : ends;
    const each = things === 0 ? '' : `; ${(all / things).toFixed(0)} bytes each`;
    console.log(
      `  ${table.padEnd(10)} ${(all / 1e6).toFixed(1)} MB, indexes ${(indexes / 1e6).toFixed(1)}${each}`,
    );
  }
}
