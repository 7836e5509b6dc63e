import { Pool, type PoolConfig } from 'pg';

/** What every connection of endwise says of itself. */
export const APPLICATION = { application_name: 'endwise' } as const;

/** Connections to a PostgreSQL that may be started anew while they are open. */
export function postgresPool(config: PoolConfig): Pool {
  const pool = new Pool({ ...APPLICATION, keepAlive: true, ...config });
  // What befalls a connection is met by the query that needs it: it ends no process.
  const met = () => undefined;
  return pool.on('error', met).on('connect', (client) => client.on('error', met));
}
