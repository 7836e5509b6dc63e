import { USUAL_SCORING } from '../../src/face/scoring.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import type { End } from '../../src/tuning/record/session.ts';
import { LogError } from './log-error.ts';
import { sealOf } from './seal.ts';

/**
 * What the log must hold for a change to be taken: a version as `versionOf...` gives it, null for
 * nothing, undefined for whatever is there. What is there already as it is sent is never a conflict.
 */
export type Expected = string | null | undefined;

/** The same for the same end, whatever photo of it the log keeps. */
export function versionOfEnd(end: End): string {
  const { id, sessionId, setUpId, shotAt, arrows, missed, setAside, notes, scoring } = end;
  // Devices have noted versions of ends from before there was a choice of rules.
  const by = scoring === USUAL_SCORING ? {} : { scoring };
  return sealOf({ id, sessionId, setUpId, shotAt, missed, setAside, notes, ...by }, arrows);
}

export function versionOfSetUp(setUp: SetUp): string {
  const { id, bowId, name, date, settings, preferredMrad, notes, archived } = setUp;
  const inOrder = Object.entries(settings).sort(([a], [b]) => (a < b ? -1 : 1));
  const said = { id, bowId, name, date, settings: inOrder, preferredMrad, notes };
  return sealOf({ ...said, ...(archived && { archived }) });
}

export function versionOfBow({
  id,
  archerId,
  name,
  hand,
  adjusters,
  notes,
  archived,
}: Bow): string {
  return sealOf({ id, archerId, name, hand, adjusters, notes, ...(archived && { archived }) });
}

/** @throws LogError where somebody else has changed or deleted what is about to be changed */
export function needExpected(
  what: 'end' | 'set-up' | 'bow',
  there: string | null,
  now: string | null,
  expected: Expected,
): void {
  if (expected === undefined || there === now || there === expected) return;
  if (there === null) {
    throw new LogError(
      'deleted-elsewhere',
      `This ${what} was deleted from the log on another device: delete it here too, or keep it again.`,
    );
  }
  throw new LogError(
    'changed-elsewhere',
    `This ${what} was changed in the log on another device: choose which of the two is right.`,
  );
}
