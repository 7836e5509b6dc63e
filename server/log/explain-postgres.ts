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
]);

/**
 * Of PostgreSQL: it is stopped, crashed with another connection, is starting, waited too long, or lets no
 * more connections in.
 */
const AWAY_STATES = /^(57P0[1-5]|25P0[34]|53300|08...)$/;

/** What the driver says without a code. */
const AWAY_WORDS =
  /^(Connection terminated|Client has encountered a connection error|timeout e|Client was closed|Query read timeout)/;

/** What the driver says, without a code, of a server that was built or set up without encryption. */
const NO_ENCRYPTION = 'The server does not support SSL connections';

/** Whether the database could not be reached, or went away. */
export function isAway(error: unknown): boolean {
  const code = codeOf(error);
  if (code !== null) return AWAY.has(code) || AWAY_STATES.test(code) || isNoSocket(error);
  return error instanceof Error && AWAY_WORDS.test(error.message);
}

/** A socket that is not there: a photo's file that is not has the same code. */
function isNoSocket(error: unknown): boolean {
  const { code, syscall } = error as { code?: unknown; syscall?: unknown };
  return code === 'ENOENT' && syscall === 'connect';
}

/** Whether PostgreSQL says by itself that it will soon be there, or have a place. */
export function isStarting(error: unknown): boolean {
  return codeOf(error) === '57P03' || isCrowded(error);
}

/**
 * Whether it only lets read: as when another takes over, until it does. A standby refuses even to begin
 * what would write as if alone, as a thing that it cannot do.
 */
export function isReadOnly(error: unknown): boolean {
  const code = codeOf(error);
  return code === '25006' || code === '0A000';
}

/** Whether it passes once somebody has seen to the database: worth long waiting for where nobody waits. */
export function passesInTime(error: unknown): boolean {
  return (
    isAway(error) || isConflict(error) || isReadOnly(error) || isFull(error) || isTooSlow(error)
  );
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
  if (isCrowded(error)) {
    return new LogError(
      'log-busy',
      'The database takes no more connections for now: try again; where it stays so, raise its max_connections or start fewer servers and workers.',
      options,
    );
  }
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
  if (isReadOnly(error)) {
    return new LogError(
      'read-only-log',
      'The database only lets read, as a standby does: name the one that is written to.',
      options,
    );
  }
  if (isTooSlow(error)) {
    return new LogError(
      'log-busy',
      'The database gave this up, as it took longer than its statement_timeout allows: try again; where it stays so, raise that.',
      options,
    );
  }
  if (isUntrusted(error)) {
    return new LogError(
      'bad-database',
      "The database's certificate is not trusted: look at it, and at sslrootcert in the address.",
      options,
    );
  }
  switch (codeOf(error)) {
    case '28P01':
    case '28000':
      return new LogError(
        'bad-database',
        'The database does not let endwise in any more: look at its user and password there, and at its pg_hba.conf.',
        options,
      );
    case '3D000':
    case '3F000':
    case '42P01':
      return new LogError(
        'bad-database',
        'The database, or tables of endwise in it, are not there any more: put back a backup, then start endwise again.',
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
  if (code === '28000' && /no encryption/.test((error as Error).message)) {
    return new LogError(
      'bad-database',
      `The database at ${host}:${port} only lets encrypted connections in: add sslmode=verify-full to the address (postgres://...?sslmode=verify-full).`,
      options,
    );
  }
  if (error instanceof Error && error.message === NO_ENCRYPTION) {
    return new LogError(
      'bad-database',
      `The database at ${host}:${port} offers no encrypted connections: turn them on there (ssl = on), or take sslmode out of the address and PGSSLMODE.`,
      options,
    );
  }
  if (isUntrusted(error)) {
    return new LogError(
      'bad-database',
      `The certificate of the database at ${host}:${port} is not trusted (${code}): name the file of who signed it by sslrootcert=FILE in the address, and the host as the certificate does.`,
      options,
    );
  }
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
  if (code === 'ENOTFOUND' || code === 'EAI_AGAIN') {
    return new LogError(
      'log-away',
      `The network knows no "${host}" (${code}): look at the address of the database, and whether the network is there.`,
      options,
    );
  }
  if (isAway(error) && !isCrowded(error)) {
    const why = AWAY.has(code) || isNoSocket(error) ? ` (${code})` : '';
    return new LogError(
      'log-away',
      `No PostgreSQL answers at ${host}:${port}${why}: look at the address, and whether it runs.`,
      options,
    );
  }
  return explainPostgres(error);
}

function isCrowded(error: unknown): boolean {
  return codeOf(error) === '53300';
}

function isTooSlow(error: unknown): boolean {
  return codeOf(error) === '57014';
}

/** By the codes of Node's tls. */
function isUntrusted(error: unknown): boolean {
  return /^(CERT_|DEPTH_ZERO_|SELF_SIGNED_|UNABLE_TO_|ERR_TLS_)/.test(codeOf(error) ?? '');
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
