import { Pool, type PoolConfig } from 'pg';

/** What every connection of endwise says of itself. */
export const APPLICATION = { application_name: 'endwise' } as const;

/**
 * So long one is kept that nobody needs, ms: to make one, with its password, costs both ends more than
 * what is usually asked by it.
 */
const IDLE_MS = 60_000;

/** Connections to a PostgreSQL that may be started anew while they are open. */
export function postgresPool(config: PoolConfig): Pool {
  const pool = new Pool({ ...APPLICATION, keepAlive: true, idleTimeoutMillis: IDLE_MS, ...config });
  // What befalls a connection is met by the query that needs it: it ends no process.
  const met = () => undefined;
  return pool.on('error', met).on('connect', (client) => client.on('error', met));
}
