import { join } from 'node:path';
import Database from 'better-sqlite3';
import { Kysely, PostgresDialect, SqliteDialect, type CompiledQuery, type Dialect } from 'kysely';
import { Pool, types } from 'pg';
import { describe, expect, it, onTestFinished } from 'vitest';
import { endsOf } from '../../../server/log/from-rows.ts';
import { Log } from '../../../server/log/log.ts';
import type { Tables } from '../../../server/log/tables.ts';
import { clubLog } from '../../bench/club-log.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { asked, ENGINES, newAddress, type Engine } from './engines.ts';

const root = temporaryFolder();

/** The whole of a table read for the sake of a few rows: what grows with the club, not with the answer. */
const WHOLE = { SQLite: /\bSCAN (ends|arrows)\b/, PostgreSQL: /Seq Scan on (ends|arrows)\b/ };

/** As the log itself reads them: places of 64 bits are numbers. */
const numbers = {
  getTypeParser: (oid: number) => (oid === 20 ? Number : types.getTypeParser(oid)) as () => unknown,
};

async function planOf(engine: Engine, address: string, query: CompiledQuery): Promise<string> {
  const values = [...query.parameters];
  if (engine === 'PostgreSQL') {
    // What has no index is read whole all the same; of tables as small as these, all would be.
    const withIndexes = `${address}?options=-c%20enable_seqscan%3Doff`;
    const rows = await asked<{ 'QUERY PLAN': string }>(withIndexes, `EXPLAIN ${query.sql}`, values);
    return rows.map((row) => row['QUERY PLAN']).join('\n');
  }
  const connection = new Database(join(address, 'log.sqlite'), { readonly: true });
  const rows = connection.prepare(`EXPLAIN QUERY PLAN ${query.sql}`).all(...values) as {
    detail: string;
  }[];
  connection.close();
  return rows.map(({ detail }) => detail).join('\n');
}

describe.each(ENGINES)('ends in %s', (engine) => {
  it('of one bow or archer are found by indexes, in a log of many', async () => {
    const address = await newAddress(engine, root);
    const log = await Log.open(address);
    onTestFinished(() => log.close());
    await log.fill(clubLog(1500), []);
    if (engine === 'PostgreSQL') await asked(address, 'ANALYZE');
    const dialect: Dialect =
      engine === 'PostgreSQL'
        ? new PostgresDialect({ pool: new Pool({ connectionString: address, types: numbers }) })
        : new SqliteDialect({ database: new Database(join(address, 'log.sqlite')) });
    const queries: CompiledQuery[] = [];
    const db = new Kysely<Tables>({
      dialect,
      log: ({ query }) => void queries.push(query),
    });
    onTestFinished(() => db.destroy());
    expect(await endsOf(db, { bowId: 'archer-1-bow' })).toHaveLength(500);
    expect(await endsOf(db, { archerId: 'archer-1' })).toHaveLength(500);
    expect(await endsOf(db, { id: 'end-7' })).toHaveLength(1);
    expect(queries).toHaveLength(6);
    for (const query of queries) {
      expect(await planOf(engine, address, query)).not.toMatch(WHOLE[engine]);
    }
    // The same means do see it where it happens.
    queries.length = 0;
    await db.selectFrom('ends').selectAll().where('notes', '=', 'gust').execute();
    expect(await planOf(engine, address, queries[0]!)).toMatch(WHOLE[engine]);
  });
});
