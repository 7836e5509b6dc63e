import { sql } from 'kysely';
import { deviceWithRole } from './migrations.ts';
import { sealOf } from './seal.ts';
import type { Tx } from './storage.ts';
import type { Tables } from './tables.ts';

/** Changes a log's layout; what a person should know of it is a sentence. */
type Migration = (tx: Tx) => Promise<string | null>;

/**
 * The layout in PostgreSQL, one step per version, which the table endwise_layout holds. A step that was
 * released is never edited: a later one changes what it made. Columns are those of SQLite, so that one
 * set of queries serves both and seals are the same; text sorts by its bytes, as it does there.
 */
export const POSTGRES_MIGRATIONS: readonly Migration[] = [
  statements(`
  CREATE TABLE archers (
    id text COLLATE "C" PRIMARY KEY,
    name text COLLATE "C" NOT NULL,
    hand text NOT NULL,
    notes text NOT NULL,
    seal text NOT NULL
  );
  CREATE TABLE bows (
    id text COLLATE "C" PRIMARY KEY,
    archer_id text COLLATE "C" NOT NULL REFERENCES archers ON DELETE CASCADE,
    name text COLLATE "C" NOT NULL,
    hand text NOT NULL,
    adjusters text NOT NULL,
    notes text NOT NULL,
    archived integer NOT NULL,
    seal text NOT NULL
  );
  CREATE INDEX bows_of_archer ON bows (archer_id);
  CREATE TABLE set_ups (
    id text COLLATE "C" PRIMARY KEY,
    bow_id text COLLATE "C" NOT NULL REFERENCES bows ON DELETE CASCADE,
    name text NOT NULL,
    date text COLLATE "C" NOT NULL,
    settings text NOT NULL,
    preferred_right_mrad double precision NOT NULL,
    preferred_up_mrad double precision NOT NULL,
    notes text NOT NULL,
    archived integer NOT NULL,
    seal text NOT NULL
  );
  CREATE INDEX set_ups_of_bow ON set_ups (bow_id);
  CREATE TABLE sessions (
    id text COLLATE "C" PRIMARY KEY,
    archer_id text COLLATE "C" NOT NULL REFERENCES archers ON DELETE CASCADE,
    bow_id text COLLATE "C" NOT NULL REFERENCES bows ON DELETE CASCADE,
    set_up_id text COLLATE "C" NOT NULL REFERENCES set_ups,
    date text COLLATE "C" NOT NULL,
    place text NOT NULL,
    setting text,
    wind text NOT NULL,
    distance_m double precision,
    face text NOT NULL,
    notes text NOT NULL,
    seal text NOT NULL
  );
  CREATE INDEX sessions_of_archer ON sessions (archer_id);
  CREATE INDEX sessions_of_bow ON sessions (bow_id);
  CREATE INDEX sessions_of_set_up ON sessions (set_up_id);
  CREATE TABLE ends (
    id text COLLATE "C" PRIMARY KEY,
    session_id text COLLATE "C" NOT NULL REFERENCES sessions ON DELETE CASCADE,
    archer_id text COLLATE "C" NOT NULL REFERENCES archers ON DELETE CASCADE,
    set_up_id text COLLATE "C" NOT NULL REFERENCES set_ups,
    shot_at text COLLATE "C" NOT NULL,
    missed_fletched integer NOT NULL,
    missed_bare integer NOT NULL,
    photo_file text UNIQUE,
    photo_sha256 text,
    source_sha256 text,
    set_aside integer NOT NULL,
    notes text NOT NULL,
    scoring text NOT NULL,
    seal text NOT NULL,
    UNIQUE (archer_id, source_sha256)
  );
  CREATE INDEX ends_of_session ON ends (session_id);
  CREATE INDEX ends_of_set_up ON ends (set_up_id);
  CREATE TABLE arrows (
    end_id text COLLATE "C" NOT NULL REFERENCES ends ON DELETE CASCADE,
    place integer NOT NULL,
    id text NOT NULL,
    x_mm double precision NOT NULL,
    y_mm double precision NOT NULL,
    sd_mm double precision,
    spot bigint NOT NULL,
    kind text NOT NULL,
    zone integer NOT NULL,
    "inner" integer NOT NULL,
    arrow_number text,
    PRIMARY KEY (end_id, place)
  );
  CREATE TABLE devices (
    id text PRIMARY KEY,
    token_sha256 text NOT NULL UNIQUE,
    archer_id text COLLATE "C" REFERENCES archers ON DELETE CASCADE,
    paired_at text COLLATE "C" NOT NULL,
    seal text NOT NULL
  );
  CREATE TABLE pairing_codes (
    id text PRIMARY KEY,
    salt text NOT NULL,
    hash text NOT NULL,
    archer_id text COLLATE "C" REFERENCES archers ON DELETE CASCADE,
    expires_at text COLLATE "C" NOT NULL
  );
  -- A photo goes with its end. Those of no end yet are of an archive that is being taken in.
  CREATE TABLE photos (
    file text PRIMARY KEY,
    end_id text COLLATE "C" UNIQUE REFERENCES ends ON DELETE CASCADE,
    sha256 text NOT NULL,
    sent_sha256 text,
    stored_at timestamptz NOT NULL DEFAULT now(),
    bytes bytea NOT NULL
  );
  -- JPEG does not get smaller by being compressed again.
  ALTER TABLE photos ALTER COLUMN bytes SET STORAGE EXTERNAL;
  -- Tells whoever lost the connection at the moment of a commit whether it was made.
  CREATE TABLE commits (id uuid PRIMARY KEY, at timestamptz NOT NULL DEFAULT now());
  -- What a crash may take along: counters of tries within the last minutes.
  CREATE UNLOGGED TABLE tries (
    key text PRIMARY KEY,
    count integer NOT NULL,
    ends_at timestamptz NOT NULL
  );
  `),
  async (tx) => {
    await addPeople(tx);
    return null;
  },
];

/** As in SQLite, where it is said why devices of nobody become the keeper's. */
async function addPeople(tx: Tx): Promise<void> {
  const { rows } = await sql<Tables['devices']>`SELECT * FROM devices`.execute(tx);
  await sql
    .raw(
      `
  CREATE TABLE coaches (
    id text COLLATE "C" PRIMARY KEY,
    name text COLLATE "C" NOT NULL,
    seal text NOT NULL
  );
  CREATE TABLE coached (
    coach_id text COLLATE "C" NOT NULL REFERENCES coaches ON DELETE CASCADE,
    archer_id text COLLATE "C" NOT NULL REFERENCES archers ON DELETE CASCADE,
    seal text NOT NULL,
    PRIMARY KEY (coach_id, archer_id)
  );
  CREATE INDEX coached_of_archer ON coached (archer_id);
  CREATE TABLE trail (
    number bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    at text COLLATE "C" NOT NULL,
    device_id text,
    device_label text NOT NULL,
    role text NOT NULL,
    done text NOT NULL,
    kind text NOT NULL,
    thing_id text,
    archer_id text COLLATE "C"
  );
  CREATE INDEX trail_of_archer ON trail (archer_id);
  CREATE INDEX trail_at ON trail (at);
  `,
    )
    .execute(tx);
  for (const table of ['devices', 'pairing_codes']) {
    await sql
      .raw(
        `
    ALTER TABLE ${table} ADD COLUMN role text NOT NULL DEFAULT '',
      ADD COLUMN coach_id text COLLATE "C" REFERENCES coaches ON DELETE CASCADE,
      ADD COLUMN label text NOT NULL DEFAULT '';
    UPDATE ${table} SET role = CASE WHEN archer_id IS NULL THEN 'keeper' ELSE 'archer' END;
    `,
      )
      .execute(tx);
  }
  for (const { seal, ...row } of rows) {
    const now = deviceWithRole(row);
    const fits = seal === sealOf(row) ? sealOf(now) : seal;
    await tx
      .updateTable('devices')
      .set({ label: now.label, seal: fits })
      .where('id', '=', row.id)
      .execute();
  }
}

function statements(text: string): Migration {
  return async (tx) => {
    await sql.raw(text).execute(tx);
    return null;
  };
}
