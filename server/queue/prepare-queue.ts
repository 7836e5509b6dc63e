import type { ClientBase } from 'pg';
import { LogError } from '../log/log-error.ts';
import { BOSS_LAYOUT, BOSS_SCHEMA, CHANNEL, QUEUE, SCHEMA } from './queue-tables.ts';

/**
 * The layout of our own tables, one step per version. A step that was released is never edited: a
 * later one changes what it made.
 */
const LAYOUT: readonly string[] = [
  `
  CREATE TABLE ${SCHEMA}.reading (
    id uuid PRIMARY KEY,
    submitted_at timestamptz NOT NULL DEFAULT now(),
    priority int NOT NULL,
    state text NOT NULL CHECK (state IN ('waiting', 'reading', 'read', 'aside')),
    device_id text,
    archer_id text,
    -- Jobs and photos go with their archer.
    of_archer text COLLATE "C" REFERENCES archers ON DELETE CASCADE,
    key text,
    photos_sha256 text NOT NULL,
    words jsonb NOT NULL,
    about jsonb NOT NULL,
    deaths int NOT NULL DEFAULT 0,
    taken uuid,
    lease_until timestamptz,
    outcome jsonb,
    read_at timestamptz,
    goes_at timestamptz NOT NULL DEFAULT now() + interval '7 days',
    CHECK ((state = 'reading') = (taken IS NOT NULL AND lease_until IS NOT NULL)),
    CHECK ((state IN ('read', 'aside')) = (outcome IS NOT NULL))
  );
  CREATE UNIQUE INDEX reading_key ON ${SCHEMA}.reading (COALESCE(device_id, ''), key) WHERE key IS NOT NULL;
  CREATE INDEX reading_waiting ON ${SCHEMA}.reading (priority DESC, submitted_at, id) WHERE state = 'waiting';
  CREATE INDEX reading_lease ON ${SCHEMA}.reading (lease_until) WHERE state = 'reading';
  CREATE INDEX reading_of_archer ON ${SCHEMA}.reading (of_archer);
  CREATE INDEX reading_goes ON ${SCHEMA}.reading (goes_at);
  CREATE TABLE ${SCHEMA}.photo_part (
    reading_id uuid NOT NULL REFERENCES ${SCHEMA}.reading ON DELETE CASCADE,
    photo text NOT NULL,
    place int NOT NULL,
    bytes bytea NOT NULL,
    PRIMARY KEY (reading_id, photo, place)
  );
  -- Photos are compressed already.
  ALTER TABLE ${SCHEMA}.photo_part ALTER COLUMN bytes SET STORAGE EXTERNAL;
  `,
  `
  -- By a trigger it is told, too, where a row goes with its archer.
  CREATE FUNCTION ${SCHEMA}.tell() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF TG_OP = 'DELETE' THEN
      PERFORM pg_notify('${CHANNEL}', 'gone ' || OLD.id);
    ELSE
      PERFORM pg_notify('${CHANNEL}', NEW.state || ' ' || NEW.id);
    END IF;
    RETURN NULL;
  END $$;
  CREATE TRIGGER tell AFTER INSERT OR DELETE OR UPDATE OF state ON ${SCHEMA}.reading
    FOR EACH ROW EXECUTE FUNCTION ${SCHEMA}.tell();
  `,
];

/** Any number, the same in each endwise: who prepares the queue keeps others from doing so. */
const LOCK = 7_143_902;

/** A worker's death is told by its lease, long before: pg-boss's own limit never ends a reading. */
const EXPIRE_HOURS = 23;

/**
 * Makes the queue's tables where they are missing, or of an earlier endwise.
 * @throws LogError where a newer endwise made them
 */
export async function prepareQueue(client: ClientBase): Promise<void> {
  const { default: PgBoss } = await import('pg-boss');
  await client.query('SELECT pg_advisory_lock($1)', [LOCK]);
  try {
    await makeLayout(client);
    const boss = new PgBoss({
      db: { executeSql: (text: string, values?: unknown[]) => client.query(text, values) },
      schema: BOSS_SCHEMA,
      supervise: false,
      schedule: false,
    });
    if ((await boss.isInstalled()) && Number(await boss.schemaVersion()) > BOSS_LAYOUT)
      throw newer();
    await boss.start();
    await boss.createQueue(QUEUE, {
      name: QUEUE,
      policy: 'standard',
      // How often is decided by how it ended: a worker that is told to end gives back what it has.
      retryLimit: 10_000,
      expireInHours: EXPIRE_HOURS,
    });
    await boss.stop({ close: false, graceful: false });
  } finally {
    await client.query('SELECT pg_advisory_unlock($1)', [LOCK]);
  }
}

async function makeLayout(client: ClientBase): Promise<void> {
  const { rows } = await client.query<{ layout: string | null }>(
    `SELECT to_regclass('${SCHEMA}.layout') AS layout`,
  );
  const isThere = rows[0]!.layout !== null;
  const version = isThere ? await versionOf(client) : 0;
  if (version > LAYOUT.length) {
    throw newer();
  }
  if (version === LAYOUT.length) return;
  await client.query('BEGIN');
  try {
    if (!isThere) {
      await client.query(`CREATE SCHEMA IF NOT EXISTS ${SCHEMA}`);
      await client.query(`CREATE TABLE ${SCHEMA}.layout (version int NOT NULL)`);
      await client.query(`INSERT INTO ${SCHEMA}.layout VALUES (0)`);
    }
    for (const step of LAYOUT.slice(version)) await client.query(step);
    await client.query(`UPDATE ${SCHEMA}.layout SET version = $1`, [LAYOUT.length]);
    await client.query('COMMIT');
  } catch (error) {
    await client.query('ROLLBACK');
    throw error;
  }
}

function newer(): LogError {
  return new LogError(
    'newer-log',
    "The database's queue was made by a newer endwise: update endwise, nothing was changed.",
  );
}

async function versionOf(client: ClientBase): Promise<number> {
  const { rows } = await client.query<{ version: number }>(`SELECT version FROM ${SCHEMA}.layout`);
  return rows[0]!.version;
}
