import { ENGLISH, type Words } from '../words/words.ts';
import { FACES } from '../face/faces.ts';
import type { Scoring } from '../face/scoring.ts';
import type { ScoredMark } from '../marks/mark.ts';
import { scoreMarks, type Score } from '../marks/score-marks.ts';
import { judgeTuning, type EndToJudge, type Known, type TuningJudgement } from './judge-tuning.ts';

/** Everything that follows from where the marks are and what a person said of the end. */
export interface Judgement extends TuningJudgement {
  readonly marks: readonly ScoredMark[];
  readonly score: Score;
  /** By which rule: the face's own where it cannot have the one that was asked for. */
  readonly scoring: Scoring;
}

/**
 * Scores marks and reads the bow from them; run again after every correction.
 * @param shaftMm shaft diameter for the line rule
 */
export function judgeMarks(
  end: EndToJudge & { readonly request: { readonly scoring?: Scoring | undefined } },
  shaftMm: number,
  known: Known = {},
  words: Words = ENGLISH,
): Judgement {
  const judged = judgeTuning(end, known, words);
  return { ...judged, ...scoreMarks(judged.marks, FACES[end.face], shaftMm, end.request.scoring) };
}
