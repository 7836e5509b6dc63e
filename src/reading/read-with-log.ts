import type { ReadingRequest } from '../request/request.ts';
import { judgeTuning } from './judge-tuning.ts';
import type { KnownOfArcher } from './known-of-archer.ts';
import type { Reading, UsedLog } from './reading.ts';

/**
 * A reading judged anew with the archer's log, as `judgeTuning` does; places and score stay.
 * @param at when the end was shot, ISO date and time
 */
export function readWithLog(
  reading: Reading,
  request: Pick<ReadingRequest, 'hand' | 'distanceM' | 'preferredMrad' | 'fletched' | 'bare'>,
  known: KnownOfArcher,
  at: string,
): Reading & { readonly log: UsedLog } {
  const { face, marks } = reading;
  const judged = judgeTuning({ face, marks, request }, { log: { of: known, at } });
  const { groups, tuning, guessedTags, notes } = judged;
  return {
    ...reading,
    marks: [...judged.marks],
    groups,
    tuning,
    guessedTags,
    warnings: [...reading.warnings, ...notes],
    log: judged.usedLog!,
  };
}
