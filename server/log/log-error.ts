export type LogErrorCode =
  | 'unknown-archer'
  | 'unknown-coach'
  | 'unknown-bow'
  | 'unknown-set-up'
  | 'unknown-session'
  | 'unknown-end'
  | 'unknown-photo'
  | 'of-another-archer'
  | 'snapshot-changed'
  | 'changed-elsewhere'
  | 'deleted-elsewhere'
  | 'in-use'
  | 'bad-set-up'
  | 'same-photo'
  | 'not-a-photo'
  | 'newer-log'
  | 'damaged-log'
  | 'damaged-photo'
  | 'not-empty'
  | 'bad-archive'
  | 'newer-archive'
  | 'disk-full'
  | 'disk-fault'
  | 'read-only-log'
  | 'log-busy'
  | 'log-away'
  | 'bad-database'
  | 'database-rights'
  | 'bad-text';

/** Thrown by the log. `message` says what is wrong and what to do; nothing that was kept is lost. */
export class LogError extends Error {
  override readonly name = 'LogError';
  readonly code: LogErrorCode;

  constructor(code: LogErrorCode, message: string, options?: ErrorOptions) {
    super(message, options);
    this.code = code;
  }
}
