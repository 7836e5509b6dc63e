import type { Database } from 'better-sqlite3';
import type { Role } from '../../src/club/rights.ts';
import { sessionOf } from './from-rows.ts';
import {
  madeUpDistance,
  madeUpWords,
  withoutMadeUp,
} from '../../src/tuning/record/made-up-distance.ts';
import { ownReferences } from './own-references.ts';
import { sealOf } from './seal.ts';
import type { Tables } from './tables.ts';

/** Changes a log's layout; what a person should know of it is a sentence. */
export type Migration = (connection: Database) => string | null;

/**
 * The log's layout, one step per version. A step that was released is never edited: a later one
 * changes what it made. The version is SQLite's user_version.
 */
export const MIGRATIONS: readonly Migration[] = [
  sql(`
  CREATE TABLE archers (
    id TEXT PRIMARY KEY,
    name TEXT NOT NULL,
    hand TEXT NOT NULL,
    notes TEXT NOT NULL
  ) STRICT;
  CREATE TABLE bows (
    id TEXT PRIMARY KEY,
    archer_id TEXT NOT NULL REFERENCES archers ON DELETE CASCADE,
    name TEXT NOT NULL,
    hand TEXT NOT NULL,
    adjusters TEXT NOT NULL,
    notes TEXT NOT NULL
  ) STRICT;
  CREATE INDEX bows_of_archer ON bows (archer_id);
  CREATE TABLE set_ups (
    id TEXT PRIMARY KEY,
    bow_id TEXT NOT NULL REFERENCES bows ON DELETE CASCADE,
    name TEXT NOT NULL,
    date TEXT NOT NULL,
    settings TEXT NOT NULL,
    preferred_right_mrad REAL NOT NULL,
    preferred_up_mrad REAL NOT NULL,
    notes TEXT NOT NULL
  ) STRICT;
  CREATE INDEX set_ups_of_bow ON set_ups (bow_id);
  CREATE TABLE sessions (
    id TEXT PRIMARY KEY,
    archer_id TEXT NOT NULL REFERENCES archers ON DELETE CASCADE,
    bow_id TEXT NOT NULL REFERENCES bows ON DELETE CASCADE,
    set_up_id TEXT NOT NULL REFERENCES set_ups,
    date TEXT NOT NULL,
    place TEXT NOT NULL,
    setting TEXT NOT NULL,
    wind TEXT NOT NULL,
    distance_m REAL NOT NULL,
    face TEXT NOT NULL,
    notes TEXT NOT NULL
  ) STRICT;
  CREATE INDEX sessions_of_archer ON sessions (archer_id);
  CREATE INDEX sessions_of_bow ON sessions (bow_id);
  CREATE INDEX sessions_of_set_up ON sessions (set_up_id);
  CREATE TABLE ends (
    id TEXT PRIMARY KEY,
    session_id TEXT NOT NULL REFERENCES sessions ON DELETE CASCADE,
    archer_id TEXT NOT NULL REFERENCES archers ON DELETE CASCADE,
    set_up_id TEXT NOT NULL REFERENCES set_ups,
    shot_at TEXT NOT NULL,
    missed_fletched INTEGER NOT NULL,
    missed_bare INTEGER NOT NULL,
    photo_file TEXT UNIQUE,
    photo_sha256 TEXT,
    source_sha256 TEXT,
    set_aside INTEGER NOT NULL,
    notes TEXT NOT NULL,
    UNIQUE (archer_id, source_sha256)
  ) STRICT;
  CREATE INDEX ends_of_session ON ends (session_id);
  CREATE INDEX ends_of_set_up ON ends (set_up_id);
  CREATE TABLE arrows (
    end_id TEXT NOT NULL REFERENCES ends ON DELETE CASCADE,
    place INTEGER NOT NULL,
    id TEXT NOT NULL,
    x_mm REAL NOT NULL,
    y_mm REAL NOT NULL,
    sd_mm REAL,
    spot INTEGER NOT NULL,
    kind TEXT NOT NULL,
    zone INTEGER NOT NULL,
    inner INTEGER NOT NULL,
    PRIMARY KEY (end_id, place)
  ) STRICT, WITHOUT ROWID;
  `),
  sql(`
  CREATE TABLE devices (
    id TEXT PRIMARY KEY,
    token_sha256 TEXT NOT NULL UNIQUE,
    archer_id TEXT REFERENCES archers ON DELETE CASCADE,
    paired_at TEXT NOT NULL
  ) STRICT;
  CREATE TABLE pairing_codes (
    id TEXT PRIMARY KEY,
    salt TEXT NOT NULL,
    hash TEXT NOT NULL,
    archer_id TEXT REFERENCES archers ON DELETE CASCADE,
    expires_at TEXT NOT NULL
  ) STRICT;
  `),
  (connection) => {
    giveOwnReferences(connection);
    sealAll(connection);
    return null;
  },
  (connection) => {
    allowUnsaid(connection, 'setting', 'TEXT');
    allowUnsaid(connection, 'distance_m', 'REAL');
    return forgetMadeUpDistances(connection);
  },
  (connection) => {
    for (const table of ['bows', 'set_ups'] as const) addArchived(connection, table);
    return null;
  },
  (connection) => {
    addArrowNumbers(connection);
    return null;
  },
  (connection) => {
    addPeople(connection);
    return null;
  },
];

/** The layout from which on a distance that nobody said is null. */
export const UNSAID_DISTANCES_FROM = 4;

function sql(text: string): Migration {
  return (connection) => {
    connection.exec(text);
    return null;
  };
}

/** SQLite cannot take NOT NULL off a column; the seals do not depend on the columns' order. */
function allowUnsaid(connection: Database, column: string, type: string): void {
  connection.exec(`
    ALTER TABLE sessions ADD COLUMN new_${column} ${type};
    UPDATE sessions SET new_${column} = ${column};
    ALTER TABLE sessions DROP COLUMN ${column};
    ALTER TABLE sessions RENAME COLUMN new_${column} TO ${column};
  `);
}

/** A damaged row keeps a seal that does not fit, and is told when it is read. */
function addArchived(connection: Database, table: 'bows' | 'set_ups'): void {
  const rows = connection.prepare(`SELECT * FROM ${table}`).all() as Tables[typeof table][];
  connection.exec(`ALTER TABLE ${table} ADD COLUMN archived INTEGER NOT NULL DEFAULT 0`);
  const seal = connection.prepare(`UPDATE ${table} SET seal = ? WHERE id = ?`);
  for (const row of rows) {
    if (row.seal === sealOf(row)) seal.run(sealOf({ ...row, archived: 0 }), row.id);
  }
}

/**
 * The numbers on the shafts, and the rule of scoring: what was kept before was valued as printed. A damaged
 * end keeps a seal that does not fit.
 */
function addArrowNumbers(connection: Database): void {
  const arrowsOf = connection.prepare('SELECT * FROM arrows WHERE end_id = ? ORDER BY place');
  const rows = connection.prepare('SELECT * FROM ends').all() as Tables['ends'][];
  const sound = rows.filter((row) => row.seal === sealOf(row, arrowsOf.all(row.id) as object[]));
  connection.exec(`
    ALTER TABLE arrows ADD COLUMN arrow_number TEXT;
    ALTER TABLE ends ADD COLUMN scoring TEXT NOT NULL DEFAULT 'as-printed';
  `);
  const arrowsNow = connection.prepare('SELECT * FROM arrows WHERE end_id = ? ORDER BY place');
  const seal = connection.prepare('UPDATE ends SET seal = ? WHERE id = ?');
  for (const { id, ...row } of sound) {
    const now = { ...row, id, scoring: 'as-printed' };
    seal.run(sealOf(now, arrowsNow.all(id) as object[]), id);
  }
}

/**
 * Coaches, what a device stands for, and the trail. A device of one archer stays that; one of nobody saw
 * and did everything, which is a keeper's part: as a coach's it would see nobody any more. A damaged
 * row keeps a seal that does not fit, and lets nobody in.
 */
function addPeople(connection: Database): void {
  const rows = connection.prepare('SELECT * FROM devices').all() as Omit<
    Tables['devices'],
    'role' | 'coach_id' | 'label'
  >[];
  connection.exec(`
    CREATE TABLE coaches (
      id TEXT PRIMARY KEY,
      name TEXT NOT NULL,
      seal TEXT NOT NULL
    ) STRICT;
    CREATE TABLE coached (
      coach_id TEXT NOT NULL REFERENCES coaches ON DELETE CASCADE,
      archer_id TEXT NOT NULL REFERENCES archers ON DELETE CASCADE,
      seal TEXT NOT NULL,
      PRIMARY KEY (coach_id, archer_id)
    ) STRICT, WITHOUT ROWID;
    CREATE INDEX coached_of_archer ON coached (archer_id);
    CREATE TABLE trail (
      number INTEGER PRIMARY KEY AUTOINCREMENT,
      at TEXT NOT NULL,
      device_id TEXT,
      device_label TEXT NOT NULL,
      role TEXT NOT NULL,
      done TEXT NOT NULL,
      kind TEXT NOT NULL,
      thing_id TEXT,
      archer_id TEXT
    ) STRICT;
    CREATE INDEX trail_of_archer ON trail (archer_id);
    CREATE INDEX trail_at ON trail (at);
  `);
  for (const table of ['devices', 'pairing_codes']) {
    connection.exec(`
      ALTER TABLE ${table} ADD COLUMN role TEXT NOT NULL DEFAULT '';
      ALTER TABLE ${table} ADD COLUMN coach_id TEXT REFERENCES coaches ON DELETE CASCADE;
      ALTER TABLE ${table} ADD COLUMN label TEXT NOT NULL DEFAULT '';
      UPDATE ${table} SET role = CASE WHEN archer_id IS NULL THEN 'keeper' ELSE 'archer' END;
    `);
  }
  const put = connection.prepare('UPDATE devices SET label = ?, seal = ? WHERE id = ?');
  for (const { seal, ...row } of rows) {
    const now = deviceWithRole(row);
    put.run(now.label, seal === sealOf(row) ? sealOf(now) : seal, row.id);
  }
}

/** A device that was paired before devices stood for anything. */
export function deviceWithRole<Row extends Pick<Tables['devices'], 'archer_id' | 'paired_at'>>(
  row: Row,
) {
  const role: Role = row.archer_id === null ? 'keeper' : 'archer';
  return { ...row, role, coach_id: null, label: `paired ${row.paired_at.slice(0, 10)}` };
}

function forgetMadeUpDistances(connection: Database): string | null {
  const rows = connection.prepare('SELECT * FROM sessions').all() as Tables['sessions'][];
  const endsOf = connection.prepare('SELECT count(*) FROM ends WHERE session_id = ?').pluck();
  const put = connection.prepare(
    'UPDATE sessions SET distance_m = ?, setting = ?, seal = ? WHERE id = ?',
  );
  const ends = { yes: 0, perhaps: 0, no: 0 };
  for (const row of rows) {
    // A damaged row stays as it is, and is told when it is read.
    const session = row.seal === sealOf(row) ? sessionOf(row) : null;
    if (session === null) continue;
    const madeUp = madeUpDistance(session);
    ends[madeUp] += endsOf.get(row.id) as number;
    if (madeUp !== 'yes') continue;
    const { distanceM, setting } = withoutMadeUp(session);
    const now = { ...row, distance_m: distanceM, setting };
    put.run(distanceM, setting, sealOf(now), row.id);
  }
  return madeUpWords(ends.yes, ends.perhaps);
}

/** Sessions and ends that name a bow or set-up of another archer get a blank one of their own. */
function giveOwnReferences(connection: Database): void {
  const all = <Row>(text: string) => connection.prepare(text).all() as Row[];
  const healed = ownReferences({
    archers: all('SELECT id, hand FROM archers'),
    bows: all('SELECT id, archer_id AS archerId FROM bows'),
    setUps: all('SELECT id, bow_id AS bowId FROM set_ups'),
    sessions: all(
      'SELECT id, archer_id AS archerId, bow_id AS bowId, set_up_id AS setUpId FROM sessions',
    ),
    ends: all('SELECT id, session_id AS sessionId, set_up_id AS setUpId FROM ends'),
  });
  const bow = connection.prepare("INSERT INTO bows VALUES (?, ?, ?, ?, '[]', '')");
  for (const { id, archerId, name, hand } of healed.newBows) bow.run(id, archerId, name, hand);
  const setUp = connection.prepare("INSERT INTO set_ups VALUES (?, ?, ?, ?, '{}', 0, 0, '')");
  for (const { id, bowId, name, date } of healed.newSetUps) setUp.run(id, bowId, name, date);
  const session = connection.prepare('UPDATE sessions SET bow_id = ?, set_up_id = ? WHERE id = ?');
  for (const { id, bowId, setUpId } of healed.sessions) session.run(bowId, setUpId, id);
  const end = connection.prepare('UPDATE ends SET set_up_id = ? WHERE id = ?');
  for (const { id, setUpId } of healed.ends) end.run(setUpId, id);
}

function sealAll(connection: Database): void {
  for (const table of ['archers', 'bows', 'set_ups', 'sessions', 'ends', 'devices']) {
    connection.exec(`ALTER TABLE ${table} ADD COLUMN seal TEXT NOT NULL DEFAULT ''`);
    const seal = connection.prepare(`UPDATE ${table} SET seal = ? WHERE id = ?`);
    const arrows = connection.prepare('SELECT * FROM arrows WHERE end_id = ? ORDER BY place');
    for (const row of connection.prepare(`SELECT * FROM ${table}`).all() as { id: string }[]) {
      const parts = table === 'ends' ? (arrows.all(row.id) as object[]) : [];
      seal.run(sealOf(row, parts), row.id);
    }
  }
}
