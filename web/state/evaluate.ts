import type { FaceId } from '../../src/face/faces.ts';
import type { Mark } from '../../src/marks/mark.ts';
import { judgeMarks, type Judgement } from '../../src/reading/judge-marks.ts';
import { ASSUMED_SHAFT_MM } from '../../src/reading/read-photo.ts';
import { readTuning } from '../../src/tuning/read-tuning.ts';
import type { PageMark } from './end-record.ts';
import type { KnownOfBow } from './known.ts';
import { requestOf, type Settings } from './settings.ts';

/** Score, groups and tuning of an end's marks as they are corrected now. */
export function evaluate(
  face: FaceId,
  marks: readonly PageMark[],
  { id, createdAt, settings }: { id: string; createdAt: string; settings: Settings },
  { record, readWith }: KnownOfBow,
): Judgement {
  const plain = marks.map(({ note, ...mark }): Mark =>
    note === undefined ? mark : { ...mark, note },
  );
  const request = requestOf(settings);
  const shaftMm = settings.shaftMm ?? ASSUMED_SHAFT_MM;
  const judged = judgeMarks(plain, face, shaftMm, request, record);
  if (!readWith || !judged.groups.offset) return judged;
  const log = readWith({
    id,
    createdAt,
    settings,
    note: '',
    reading: { face, marks: judged.marks },
  });
  if (!log) return judged;
  return { ...judged, tuning: readTuning(judged.groups, { ...request, record, log }) };
}
