import type { FaceId } from '../../src/face/faces.ts';
import type { Scoring } from '../../src/face/scoring.ts';
import type { ScoredMark } from '../../src/marks/mark.ts';
import type { KeptSettings } from './settings-at-first.ts';

/** What of an end the log wants; kept ends have it. */
export interface EndToLog {
  readonly id: string;
  readonly createdAt: string;
  readonly note: string;
  readonly settings: KeptSettings;
  readonly reading: {
    readonly face: FaceId;
    readonly scoring?: Scoring | undefined;
    readonly marks: readonly Omit<ScoredMark, 'note'>[];
  };
}
