import isSame from 'fast-deep-equal';

/** One record of a book as a device has it, as the log has it, and as both had it when they last agreed. */
export interface Copies<Row> {
  /** Undefined where the device has none. */
  readonly here: Row | undefined;
  /** Undefined where the log has none. */
  readonly there: Row | undefined;
  /** Undefined where they never agreed on one. */
  readonly agreed: Row | undefined;
  /** Whether this device has something that was shot with it: it cannot go then. */
  readonly isShotWith: boolean;
}

/** What brings both together without losing what somebody changed; a conflict waits for a person. */
export type MergeStep = 'none' | 'send' | 'take' | 'delete-there' | Conflict;
export type Conflict = 'changed-elsewhere' | 'deleted-elsewhere';

/**
 * A change beats no change, and a change beats a deletion; two changes are for a person to choose from. So
 * is what is gone from the log: it may have been deleted there, or the log may be another one.
 */
export function mergeStep<Row>({ here, there, agreed, isShotWith }: Copies<Row>): MergeStep {
  if (isSame(here, there)) return 'none';
  const changedHere = !isSame(here, agreed);
  const changedThere = !isSame(there, agreed);
  if (here === undefined) return changedThere ? 'take' : 'delete-there';
  if (there === undefined) {
    if (agreed === undefined || (isShotWith && !changedHere)) return 'send';
    return 'deleted-elsewhere';
  }
  if (changedHere && changedThere) return 'changed-elsewhere';
  return changedHere ? 'send' : 'take';
}
