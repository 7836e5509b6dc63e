import { FACES, type FaceId } from '../face/faces.ts';
import type { ArcherRecord } from '../groups/archer-record.ts';
import { groupsOf } from '../groups/groups-of.ts';
import type { Groups } from '../groups/groups.ts';
import type { Mark, ScoredMark } from '../marks/mark.ts';
import { scoreMarks, type Score } from '../marks/score-marks.ts';
import { readTuning } from '../tuning/read-tuning.ts';
import type { Tuning } from '../tuning/advice/tuning.ts';
import type { ReadingRequest } from '../request/request.ts';

/** Everything that follows from where the marks are and what a person said of the end. */
export interface Judgement {
  readonly marks: readonly ScoredMark[];
  readonly score: Score;
  readonly groups: Groups;
  readonly tuning: Tuning;
}

/**
 * Scores marks and reads the bow from them; run again after every correction.
 * Marks that are `old` count for nothing.
 * @param shaftMm shaft diameter for the line rule
 */
export function judgeMarks(
  marks: readonly Mark[],
  face: FaceId,
  shaftMm: number,
  request: Pick<ReadingRequest, 'hand' | 'distanceM' | 'preferredMrad'>,
  record?: ArcherRecord,
): Judgement {
  const { marks: scored, score } = scoreMarks(marks, FACES[face], shaftMm);
  const groups = groupsOf(
    marks.filter((mark) => mark.age !== 'old'),
    { distanceM: request.distanceM, record },
  );
  const tuning = readTuning(groups, {
    hand: request.hand,
    distanceM: request.distanceM,
    preferredMrad: request.preferredMrad,
    record,
  });
  return { marks: scored, score, groups, tuning };
}
