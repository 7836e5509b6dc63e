import type { ArcherRecord } from '../../src/groups/archer-record.ts';
import type { LogReading } from '../../src/tuning/read-log.ts';
import type { FaceId } from '../../src/face/faces.ts';
import type { ScoredMark } from '../../src/marks/mark.ts';
import type { Settings } from './settings.ts';

/** What of an end the log wants; kept ends have it. */
export interface EndToLog {
  readonly id: string;
  readonly createdAt: string;
  readonly note: string;
  readonly settings: Settings;
  readonly reading: { readonly face: FaceId; readonly marks: readonly Omit<ScoredMark, 'note'>[] };
}

/** What earlier ends know of an archer and the bow in use. */
export interface KnownOfBow {
  readonly record: ArcherRecord | undefined;
  /** What the bow's log says with the end in hand counted in; null without a log of this bow. */
  readonly readWith: ((end: EndToLog) => LogReading | null) | null;
}

export const NOTHING_KNOWN: KnownOfBow = { record: undefined, readWith: null };
