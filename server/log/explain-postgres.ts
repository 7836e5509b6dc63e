import { LogError } from './log-error.ts';

/** What of an address may be shown: all but the password. */
export interface DatabasePlace {
  readonly host: string;
  readonly port: number;
  readonly database: string;
  readonly user: string;
}

/** Two transactions that would have come out differently one after the other. */
const CONFLICT = new Set(['40001', '40P01', '55P03']);

/** What is checked before it is written can only be violated by what was written meanwhile. */
const OVERTAKEN = new Set(['23503', '23505']);

/** Codes of the network, as Node gives them. */
const AWAY = new Set([
  'ECONNREFUSED',
  'ECONNRESET',
  'EHOSTUNREACH',
  'ENETUNREACH',
  'ENOTFOUND',
  'EAI_AGAIN',
  'EPIPE',
  'ETIMEDOUT',
  'ENOENT',
]);

/** Of PostgreSQL: it is stopped, crashed with another connection, is starting, or waited too long. */
const AWAY_STATES = /^(57P0[1-5]|25P03|08...)$/;

/** What the driver says without a code. */
const AWAY_WORDS =
  /^(Connection terminated|Client has encountered a connection error|timeout exceeded when trying to connect|Client was closed|Query read timeout)/;

/** Whether the database could not be reached, or went away. */
export function isAway(error: unknown): boolean {
  const code = codeOf(error);
  if (code !== null) return AWAY.has(code) || AWAY_STATES.test(code);
  return error instanceof Error && AWAY_WORDS.test(error.message);
}

/** Whether PostgreSQL says by itself that it will soon be there. */
export function isStarting(error: unknown): boolean {
  return codeOf(error) === '57P03';
}

/** Whether another transaction was in the way: nothing of this one was kept. */
export function isConflict(error: unknown): boolean {
  const code = codeOf(error);
  return code !== null && CONFLICT.has(code);
}

/** Whether the same once more may go well, where what is written was looked at before. */
export function isOvertaken(error: unknown): boolean {
  const code = codeOf(error);
  return isConflict(error) || (code !== null && OVERTAKEN.has(code));
}

/** Troubles of PostgreSQL that a person can do something about, as a sentence; others pass unchanged. */
export function explainPostgres(error: unknown): unknown {
  if (error instanceof LogError) return error;
  const options = { cause: error };
  if (isAway(error)) {
    return new LogError(
      'log-away',
      'The database of the log cannot be reached: what was not confirmed is not kept, try again.',
      options,
    );
  }
  if (isOvertaken(error)) {
    return new LogError('log-busy', 'Others are writing the same to the log: try again.', options);
  }
  if (isFull(error)) {
    return new LogError(
      'disk-full',
      'The disk of the database is full: make room and keep it again; what was kept before is safe.',
      options,
    );
  }
  switch (codeOf(error)) {
    case '53300':
    case '53200':
      return new LogError(
        'log-busy',
        'The database takes no more connections for now: try again.',
        options,
      );
    case '25006':
      return new LogError(
        'read-only-log',
        'The database only lets read, as a standby does: name the one that is written to.',
        options,
      );
    case '42501':
      return new LogError(
        'database-rights',
        'The user of the database may not do that in it: make it the owner of its tables.',
        options,
      );
    case '22021':
    case '22P05':
      return new LogError('bad-text', 'A text holds a character that cannot be kept.', options);
    case '58030':
      return new LogError(
        'disk-fault',
        'The disk of the database could not be read or written: look after it, then try again.',
        options,
      );
    case 'XX001':
    case 'XX002':
      return new LogError(
        'damaged-log',
        'The database is damaged: "endwise export" saves what can still be read; put back a backup.',
        options,
      );
    default:
      return error;
  }
}

/** The same at the start, where the person who runs it reads which database is meant. */
export function explainOpening(error: unknown, place: DatabasePlace): unknown {
  if (error instanceof LogError) return error;
  const { host, port, database, user } = place;
  const options = { cause: error };
  const code = codeOf(error) ?? '';
  if (code === '28P01' || code === '28000') {
    return new LogError(
      'bad-database',
      `The database at ${host}:${port} does not let "${user}" in: look at user and password, and at its pg_hba.conf.`,
      options,
    );
  }
  if (code === '3D000') {
    return new LogError(
      'bad-database',
      `There is no database "${database}" at ${host}:${port}: make it with "createdb ${database}", or look at the address.`,
      options,
    );
  }
  if (code === '42501') {
    return new LogError(
      'database-rights',
      `"${user}" may not make tables in the database "${database}": make it the owner (ALTER DATABASE ${database} OWNER TO ${user}).`,
      options,
    );
  }
  if (code === '42P07') {
    return new LogError(
      'bad-database',
      `The database "${database}" holds tables of something else: give endwise one of its own.`,
      options,
    );
  }
  if (isAway(error)) {
    const why = AWAY.has(code) ? ` (${code})` : '';
    return new LogError(
      'log-away',
      `No PostgreSQL answers at ${host}:${port}${why}: look at the address, and whether it runs.`,
      options,
    );
  }
  return explainPostgres(error);
}

/** Also of a connection that cannot be made for it: of that PostgreSQL only says where in itself it failed. */
function isFull(error: unknown): boolean {
  const code = codeOf(error);
  const { routine } = (error ?? {}) as { routine?: unknown };
  return code === '53100' || code === '53400' || (code === 'XX000' && routine === 'write_item');
}

function codeOf(error: unknown): string | null {
  const { code } = (error ?? {}) as { code?: unknown };
  return typeof code === 'string' ? code : null;
}
