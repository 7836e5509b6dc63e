import type { FaceId } from '../../src/face/faces.ts';
import type { Mark } from '../../src/marks/mark.ts';
import { judgeMarks, type Judgement } from '../../src/reading/judge-marks.ts';
import { ASSUMED_SHAFT_MM } from '../../src/reading/read-photo.ts';
import type { PageMark } from './end-record.ts';
import { requestOf, type Settings } from './settings.ts';

/** Score, groups and tuning of the marks as they are corrected now. */
export function evaluate(face: FaceId, marks: readonly PageMark[], settings: Settings): Judgement {
  const plain = marks.map(({ note, ...mark }): Mark =>
    note === undefined ? mark : { ...mark, note },
  );
  return judgeMarks(plain, face, settings.shaftMm ?? ASSUMED_SHAFT_MM, requestOf(settings));
}
