import { describe, expect, it } from 'vitest';
import { postgresPool } from '../../../server/log/postgres-pool.ts';
import { databaseOfTests, hasPostgres } from '../postgres/postgres-of-tests.ts';
import { asked } from './engines.ts';

describe.runIf(hasPostgres)('connections to PostgreSQL', () => {
  it('that break while they are held end no process, and are replaced', async () => {
    const connectionString = await databaseOfTests();
    const pool = postgresPool({ connectionString, max: 1 });
    const client = await pool.connect();
    const { rows } = await client.query<{ pid: number }>('SELECT pg_backend_pid() AS pid');
    const gone = new Promise((resolve) => client.once('end', resolve));
    await asked(connectionString, 'SELECT pg_terminate_backend($1)', [rows[0]!.pid]);
    await gone;
    await expect(client.query('SELECT 1')).rejects.toThrow();
    client.release(true);
    expect((await pool.query<{ one: number }>('SELECT 1 AS one')).rows).toEqual([{ one: 1 }]);
    await pool.end();
  });
});
