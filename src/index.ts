/**
 * What others may import of the core: the whole way from a photo to advice, and the log's side of it.
 * Everything else in these folders may change without notice.
 *
 * Lengths are millimetres on the unrolled sheet (x to the archer's right, y up), angles of shooting
 * are milliradians, positions in a photo are pixels with the centre of the first at (0.5, 0.5).
 */

export type { PhotoPx, SheetMm, SpotMm } from './face/coordinates.ts';
export { FACES, FACE_IDS, type Face, type FaceId, type Ink, type Zone } from './face/faces.ts';
export { zoneAt, type ZoneCall } from './face/line-rule.ts';

export type { HandPlacement } from './request/fit-options.ts';
export { ReadingError, type ReadingErrorCode } from './request/reading-error.ts';
export {
  readingRequestSchema,
  type FaceChoice,
  type Hand,
  type ReadingRequest,
  type UsualSizes,
} from './request/request.ts';
export { SHAFT_MM } from './request/limits.ts';

export { loadOpenCv, type OpenCv } from './raster/load-open-cv.ts';
export type { Raster } from './raster/raster.ts';

export type { FaceFit } from './fit/camera/face-fit.ts';
export { aboveFace, photoToSheet, sheetToPhoto } from './fit/camera/project.ts';

export type { ArrowKind, Mark, MarkAge, MarkState, ScoredMark } from './marks/mark.ts';
export type { Networks } from './marks/network/networks.ts';

export { archerRecordSchema, type ArcherRecord } from './groups/archer-record.ts';
export { groupsOf, type GroupsOptions } from './groups/groups-of.ts';
export { groupsSchema, type Group, type Groups, type Offset } from './groups/groups.ts';
export { suggestKinds, type KindSuggestion } from './groups/suggest-kinds.ts';

export { bowSchema, setUpSchema, type Bow, type SetUp } from './tuning/bow/set-up.ts';
export { restoreSheet, type RestoreSheet } from './tuning/bow/restore-sheet.ts';
export { setUpDifference, type SettingDifference } from './tuning/bow/set-up-difference.ts';
export {
  archerSchema,
  endSchema,
  sessionSchema,
  type Archer,
  type End,
  type Session,
} from './tuning/record/session.ts';
export { tuningSchema, type Advice, type Certainty, type Tuning } from './tuning/advice/tuning.ts';
export { readLog, type LogReading } from './tuning/read-log.ts';
export { readTuning, type TuningOptions } from './tuning/read-tuning.ts';

export { compareSetUps, type Comparison } from './trends/compare-set-ups.ts';
export { learnRecord } from './trends/learn-record.ts';
export {
  spreadAgainstDistance,
  type SpreadAgainstDistance,
} from './trends/spread-against-distance.ts';
export { timeline, type Timeline } from './trends/timeline.ts';
export { trendEnds, type TrendEnd } from './trends/trend-ends.ts';
export { walkBack, type WalkBack } from './trends/walk-back.ts';

export type { Engine } from './reading/engine.ts';
export { readPhoto, type ReadingStage, type ReadPhotoOptions } from './reading/read-photo.ts';
export type { KnownOfArcher } from './reading/known-of-archer.ts';
export { readWithLog } from './reading/read-with-log.ts';
export {
  readingResultSchema,
  readingSchema,
  type Reading,
  type ReadingResult,
} from './reading/reading.ts';
