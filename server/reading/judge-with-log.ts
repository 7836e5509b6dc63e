import type { KnownOfArcher } from '../../src/reading/known-of-archer.ts';
import { readWithLog } from '../../src/reading/read-with-log.ts';
import type { UsedLog } from '../../src/reading/reading.ts';
import type { ReadingRequest } from '../../src/request/request.ts';
import type { Outcome } from './read-job.ts';

/** An outcome judged anew with what the log knows of who shot; a failure stays what it is. */
export function judgeWithLog(
  outcome: Outcome,
  request: ReadingRequest,
  known: KnownOfArcher,
  at: string,
): Outcome & { log?: UsedLog } {
  if (!outcome.ok) return outcome;
  const { log, ...reading } = readWithLog(outcome.reading, request, known, at);
  return { ...outcome, reading, log };
}
