import { ENGLISH } from '../../src/words/words.ts';
import { LogError } from './log-error.ts';

const FULL = new Set(['SQLITE_FULL', 'ENOSPC', 'EDQUOT', 'EFBIG']);
const NOT_WRITABLE = new Set(['EACCES', 'EPERM', 'EROFS', 'SQLITE_CANTOPEN', 'SQLITE_PERM']);

/** Storage troubles that a person can do something about, as a sentence; others pass unchanged. */
export function explainStorage(error: unknown): unknown {
  if (error instanceof LogError) return error;
  const { code } = error as { code?: unknown };
  if (typeof code !== 'string') return error;
  if (FULL.has(code)) {
    return new LogError(
      'disk-full',
      ENGLISH.say('The disk is full: make room and keep it again; what was kept before is safe.'),
      { cause: error },
    );
  }
  if (code.startsWith('SQLITE_BUSY') || code === 'SQLITE_LOCKED') {
    return new LogError('log-busy', 'Another endwise is writing to the log: try again.', {
      cause: error,
    });
  }
  if (code === 'SQLITE_NOTADB' || code.startsWith('SQLITE_CORRUPT')) return damagedLog(error);
  if (NOT_WRITABLE.has(code) || code.startsWith('SQLITE_READONLY')) {
    return new LogError(
      'read-only-log',
      "The log's folder or file cannot be written to: allow it, or name another folder with ENDWISE_DATA.",
      { cause: error },
    );
  }
  if (code.startsWith('SQLITE_IOERR') || code === 'EIO') {
    return new LogError(
      'disk-fault',
      'The disk could not be read or written: look after it, then try again.',
      { cause: error },
    );
  }
  return error;
}

/** @param what that was found, as the end of a sentence's first part */
export function damagedLog(cause?: unknown, what = 'The log file is damaged'): LogError {
  return new LogError(
    'damaged-log',
    ENGLISH.say(
      '{what}: "endwise export" saves what can still be read; move the file away to start a new log, or put back an older copy.',
      { what },
    ),
    { cause },
  );
}
