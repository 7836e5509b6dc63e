import { LogError } from './log-error.ts';

/** Storage troubles that a person can do something about, as a sentence; others pass unchanged. */
export function explainStorage(error: unknown): unknown {
  if (error instanceof LogError) return error;
  const { code } = error as { code?: unknown };
  if (typeof code !== 'string') return error;
  if (code === 'SQLITE_FULL' || code === 'ENOSPC' || code === 'EDQUOT') {
    return new LogError(
      'disk-full',
      'The disk is full: make room and keep it again; what was kept before is safe.',
      { cause: error },
    );
  }
  if (code.startsWith('SQLITE_BUSY') || code === 'SQLITE_LOCKED') {
    return new LogError('log-busy', 'Another endwise is writing to the log: try again.', {
      cause: error,
    });
  }
  if (code === 'SQLITE_NOTADB' || code.startsWith('SQLITE_CORRUPT')) {
    return new LogError(
      'damaged-log',
      'The log file is damaged: restore it from an export, or move it away to start a new one.',
      { cause: error },
    );
  }
  return error;
}
