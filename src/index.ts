/**
 * What others may import of the core: the whole way from a photo to advice, and the log's side of it.
 * Everything else in these folders may change without notice.
 *
 * Lengths are millimetres on the unrolled sheet (x to the archer's right, y up), angles of shooting
 * are milliradians, positions in a photo are pixels with the centre of the first at (0.5, 0.5).
 *
 * A number among the arguments that is not finite, or larger than anything that is measured, throws an
 * InputError that says where it stands.
 */

import { checked, checkedLater } from './request/input-error.ts';
import { zoneAt as zoneAtUnchecked } from './face/line-rule.ts';
import {
  aboveFace as aboveFaceUnchecked,
  photoToSheet as photoToSheetUnchecked,
  sheetToPhoto as sheetToPhotoUnchecked,
} from './fit/camera/project.ts';
import { groupsOf as groupsOfUnchecked } from './groups/groups-of.ts';
import { suggestKinds as suggestKindsUnchecked } from './groups/suggest-kinds.ts';
import { restoreSheet as restoreSheetUnchecked } from './tuning/bow/restore-sheet.ts';
import { setUpDifference as setUpDifferenceUnchecked } from './tuning/bow/set-up-difference.ts';
import { readLog as readLogUnchecked } from './tuning/read-log.ts';
import { readTuning as readTuningUnchecked } from './tuning/read-tuning.ts';
import { compareSetUps as compareSetUpsUnchecked } from './trends/compare-set-ups.ts';
import { learnRecord as learnRecordUnchecked } from './trends/learn-record.ts';
import { spreadAgainstDistance as spreadAgainstDistanceUnchecked } from './trends/spread-against-distance.ts';
import { timeline as timelineUnchecked } from './trends/timeline.ts';
import { trendEnds as trendEndsUnchecked } from './trends/trend-ends.ts';
import { walkBack as walkBackUnchecked } from './trends/walk-back.ts';
import { readPhoto as readPhotoUnchecked } from './reading/read-photo.ts';
import { readWithLog as readWithLogUnchecked } from './reading/read-with-log.ts';
export { ENGLISH, wordsOf, type Language, type SpokenLanguage, type Words } from './words/words.ts';
export { METRIC, type Units } from './words/units.ts';

export type { PhotoPx, SheetMm, SpotMm } from './face/coordinates.ts';
export { FACES, FACE_IDS, type Face, type FaceId, type Ink, type Zone } from './face/faces.ts';
export type { ZoneCall } from './face/line-rule.ts';

export type { HandPlacement } from './request/fit-options.ts';
export { InputError } from './request/input-error.ts';
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

export type { ArrowKind, Mark, MarkAge, MarkState, ScoredMark } from './marks/mark.ts';
export type { Networks } from './marks/network/networks.ts';

export { archerRecordSchema, type ArcherRecord } from './groups/archer-record.ts';
export type { GroupsOptions } from './groups/groups-of.ts';
export { groupsSchema, type Group, type Groups, type Offset } from './groups/groups.ts';
export type { KindSuggestion } from './groups/suggest-kinds.ts';

export { bowSchema, setUpSchema, type Bow, type SetUp } from './tuning/bow/set-up.ts';
export type { RestoreSheet } from './tuning/bow/restore-sheet.ts';
export type { SettingDifference } from './tuning/bow/set-up-difference.ts';
export {
  archerSchema,
  endSchema,
  sessionSchema,
  type Archer,
  type End,
  type Session,
} from './tuning/record/session.ts';
export { tuningSchema, type Advice, type Certainty, type Tuning } from './tuning/advice/tuning.ts';
export type { LogReading } from './tuning/read-log.ts';
export type { TuningOptions } from './tuning/read-tuning.ts';

export type { Comparison } from './trends/compare-set-ups.ts';
export type { SpreadAgainstDistance } from './trends/spread-against-distance.ts';
export type { Timeline } from './trends/timeline.ts';
export type { TrendEnd } from './trends/trend-ends.ts';
export type { WalkBack } from './trends/walk-back.ts';

export type { Engine } from './reading/engine.ts';
export type { ReadingStage, ReadPhotoOptions } from './reading/read-photo.ts';
export type { KnownOfArcher } from './reading/known-of-archer.ts';
export {
  readingResultSchema,
  readingSchema,
  type Reading,
  type ReadingResult,
} from './reading/reading.ts';

/** {@inheritDoc zoneAtUnchecked} */
export const zoneAt = checked('zoneAt', zoneAtUnchecked);
/** {@inheritDoc aboveFaceUnchecked} */
export const aboveFace = checked('aboveFace', aboveFaceUnchecked);
/** {@inheritDoc photoToSheetUnchecked} */
export const photoToSheet = checked('photoToSheet', photoToSheetUnchecked);
/** {@inheritDoc sheetToPhotoUnchecked} */
export const sheetToPhoto = checked('sheetToPhoto', sheetToPhotoUnchecked);
/** {@inheritDoc groupsOfUnchecked} */
export const groupsOf = checked('groupsOf', groupsOfUnchecked);
/** {@inheritDoc suggestKindsUnchecked} */
export const suggestKinds = checked('suggestKinds', suggestKindsUnchecked);
/** {@inheritDoc restoreSheetUnchecked} */
export const restoreSheet = checked('restoreSheet', restoreSheetUnchecked);
/** {@inheritDoc setUpDifferenceUnchecked} */
export const setUpDifference = checked('setUpDifference', setUpDifferenceUnchecked);
/** {@inheritDoc readLogUnchecked} */
export const readLog = checked('readLog', readLogUnchecked);
/** {@inheritDoc readTuningUnchecked} */
export const readTuning = checked('readTuning', readTuningUnchecked);
/** {@inheritDoc compareSetUpsUnchecked} */
export const compareSetUps = checked('compareSetUps', compareSetUpsUnchecked);
/** {@inheritDoc learnRecordUnchecked} */
export const learnRecord = checked('learnRecord', learnRecordUnchecked);
/** {@inheritDoc spreadAgainstDistanceUnchecked} */
export const spreadAgainstDistance = checked(
  'spreadAgainstDistance',
  spreadAgainstDistanceUnchecked,
);
/** {@inheritDoc timelineUnchecked} */
export const timeline = checked('timeline', timelineUnchecked);
/** {@inheritDoc trendEndsUnchecked} */
export const trendEnds = checked('trendEnds', trendEndsUnchecked);
/** {@inheritDoc walkBackUnchecked} */
export const walkBack = checked('walkBack', walkBackUnchecked);
/** {@inheritDoc readPhotoUnchecked} */
export const readPhoto = checkedLater('readPhoto', readPhotoUnchecked);
/** {@inheritDoc readWithLogUnchecked} */
export const readWithLog = checked('readWithLog', readWithLogUnchecked);
