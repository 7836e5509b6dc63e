import type { ArcherRecord } from '../../src/groups/archer-record.ts';
import type { LogReading } from '../../src/tuning/read-log.ts';
import type { EndToLog } from '../keep/log-of-kept.ts';

/** What earlier ends know of an archer and the bow in use. */
export interface KnownOfBow {
  readonly record: ArcherRecord | undefined;
  /** What the bow's log says with the end in hand counted in; null without a log of this bow. */
  readonly readWith: ((end: EndToLog) => LogReading | null) | null;
}

export const NOTHING_KNOWN: KnownOfBow = { record: undefined, readWith: null };
