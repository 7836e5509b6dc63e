import { existsSync } from 'node:fs';
import { Client } from 'pg';
import { describe, expect, it } from 'vitest';
import { databaseOfTests, hasPostgres } from './postgres-of-tests.ts';
import { startPostgres } from './start-postgres.ts';

async function asked(url: string, text: string): Promise<unknown> {
  const client = new Client({ connectionString: url });
  await client.connect();
  const { rows } = await client.query<Record<string, unknown>>(text).finally(() => client.end());
  return rows;
}

describe.skipIf(!hasPostgres)('the PostgreSQL of the tests', () => {
  it('gives each its own empty database, of one server', async () => {
    const [one, other] = await Promise.all([databaseOfTests(), databaseOfTests()]);
    expect(new URL(one).port).toBe(new URL(other).port);
    await asked(one, 'CREATE TABLE arrows (id int)');
    await expect(asked(other, 'SELECT * FROM arrows')).rejects.toMatchObject({ code: '42P01' });
    const wrong = new URL(one);
    wrong.password = 'another';
    await expect(asked(wrong.href, 'SELECT 1')).rejects.toMatchObject({ code: '28P01' });
  });

  it('keeps what is committed when it is killed and started again, and leaves nothing behind', async () => {
    const own = await startPostgres({ durable: true });
    await asked(own.url, 'CREATE TABLE arrows AS SELECT 7 AS id');
    await own.kill();
    await expect(asked(own.url, 'SELECT 1')).rejects.toMatchObject({ code: 'ECONNREFUSED' });
    await own.start();
    expect(await asked(own.url, 'SELECT id FROM arrows')).toEqual([{ id: 7 }]);
    await own.stop();
    expect(existsSync(own.folder)).toBe(false);
  });
});
