import { LogError } from './log-error.ts';

/** @param why as the end of a sentence, without its full stop */
export function broken(why: string, cause?: unknown): LogError {
  return new LogError('bad-archive', `The archive cannot be imported: ${why}.`, { cause });
}
