import { readWithLog, type KnownOfArcher } from '../../src/reading/read-with-log.ts';
import type { UsedLog } from '../../src/reading/reading.ts';
import type { ReadingRequest } from '../../src/request/request.ts';
import { setUpAt } from '../../src/tuning/record/set-up-at.ts';
import type { Outcome } from './read-job.ts';

/** An outcome judged anew with what the log knows of who shot; a failure stays what it is. */
export function judgeWithLog(
  outcome: Outcome,
  request: ReadingRequest,
  known: KnownOfArcher,
  at: string,
): Outcome & { log?: UsedLog } {
  if (!outcome.ok) return outcome;
  const { archer, bow, setUps, setUpId, ends, sessions } = known;
  const ofBow = new Set(sessions.filter(({ bowId }) => bowId === bow?.id).map(({ id }) => id));
  const used = bow ? ends.filter((end) => ofBow.has(end.sessionId)) : ends;
  return {
    ...outcome,
    reading: readWithLog(outcome.reading, request, known, at),
    log: {
      archer: archer.id,
      bow: bow?.id ?? null,
      setUp: setUpId ?? setUpAt({ setUps, ends }, at)?.id ?? null,
      ends: used.length,
    },
  };
}
