import { Kysely, PostgresDialect, type PostgresPool, type PostgresPoolClient } from 'kysely';
import { Client, type PoolClient } from 'pg';
import { explainOpening } from '../log/explain-postgres.ts';
import { Log } from '../log/log.ts';
import { APPLICATION, postgresPool } from '../log/postgres-pool.ts';
import { prepareQueue } from './prepare-queue.ts';
import { QueueNews } from './queue-news.ts';
import { QueueStore } from './queue-store.ts';
import { BOSS_SCHEMA, SCHEMA, type QueueTables } from './queue-tables.ts';

export interface OpenQueue {
  readonly store: QueueStore;
  readonly news: QueueNews;
  readonly close: () => Promise<void>;
}

export interface OpenQueueOptions {
  /** Connections at once. */
  readonly most: number;
  /** How long a worker may be silent, s. @default 10 */
  readonly leaseSeconds?: number | undefined;
  /** Called with how long each question took, s. */
  readonly onAsked?: (seconds: number) => void;
}

/** A database that does not answer is away, ms. */
const CONNECT_MS = 5_000;
/** No question of ours takes as long; what hangs longer holds a lock that others wait for, ms. */
const STATEMENT_MS = 60_000;

/**
 * Opens the queue in a database, and makes it there where it is missing; the log beside it too, whose
 * archers its rows name.
 * @throws LogError
 */
export async function openQueue(
  address: string,
  { most, leaseSeconds, onAsked }: OpenQueueOptions,
): Promise<OpenQueue> {
  const log = await Log.open(address);
  await log.close();
  const { default: PgBoss } = await import('pg-boss');
  const connection = { connectionString: address, connectionTimeoutMillis: CONNECT_MS };
  const client = new Client({ ...APPLICATION, ...connection });
  client.on('error', () => undefined);
  try {
    await client.connect();
    await prepareQueue(client).finally(() => client.end());
  } catch (error) {
    const { host, port, database, user } = client;
    throw explainOpening(error, { host, port, database: database ?? '', user: user ?? '' });
  }

  const pool = postgresPool({
    ...connection,
    max: most,
    statement_timeout: STATEMENT_MS,
    idle_in_transaction_session_timeout: STATEMENT_MS,
  });
  const queriesOf = (connections: PostgresPool) =>
    new Kysely<QueueTables>({
      dialect: new PostgresDialect({ pool: connections }),
      ...(onAsked && { log: (event) => onAsked(event.queryDurationMillis / 1000) }),
    }).withSchema(SCHEMA);
  const db = queriesOf(pool);
  const boss = new PgBoss({
    db: { executeSql: (text: string, values: unknown[] = []) => pool.query(text, values) },
    schema: BOSS_SCHEMA,
    supervise: false,
    schedule: false,
    migrate: false,
  });
  const news = new QueueNews({ ...APPLICATION, ...connection });
  return {
    store: new QueueStore(
      { db, pool, by: (client) => queriesOf(poolOf(client)) },
      boss,
      leaseSeconds,
    ),
    news,
    close: async () => {
      await news.close();
      await db.destroy();
    },
  };
}

/** One connection, which whoever took it gives back. */
function poolOf(client: PoolClient): PostgresPool {
  const query = client.query.bind(client) as PostgresPoolClient['query'];
  const one = { query, release: () => undefined };
  return { connect: () => Promise.resolve(one), end: () => Promise.resolve() };
}
