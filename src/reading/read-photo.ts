import { ENGLISH } from '../words/words.ts';
import type { FaceFit } from '../fit/camera/face-fit.ts';
import { fitFace } from '../fit/fit-face.ts';
import type { FitOptions, HandPlacement } from '../request/fit-options.ts';
import { isLikely } from '../fit/find/group-spots.ts';
import type { ArcherRecord } from '../groups/archer-record.ts';
import { expectedCount, findMarks } from '../marks/find-marks.ts';
import { withArrowNumbers, withKinds } from './with-kinds.ts';
import { SCORINGS } from '../face/scoring.ts';
import type { PhotoPx } from '../face/coordinates.ts';
import type { FaceId } from '../face/faces.ts';
import type { Raster } from '../raster/raster.ts';
import { joinViews } from '../two-views/join-views.ts';
import { describeFit } from './describe-fit.ts';
import { ASSUMED_SHAFT_MM } from '../request/assumed-shaft.ts';
import type { Engine } from './engine.ts';
import { judgeMarks } from './judge-marks.ts';
import { ReadingError } from '../request/reading-error.ts';
import type { Reading } from './reading.ts';
import type { ReadingRequest, UsualSizes } from '../request/request.ts';

export type ReadingStage = 'face' | 'before' | 'marks' | 'also' | 'score';

export interface ReadPhotoOptions {
  /** A photo of the same face before this end was shot. */
  readonly before?: { readonly photo: Raster; readonly focalPx?: number };
  /** A photo of the same end from somewhere else. */
  readonly also?: { readonly photo: Raster; readonly focalPx?: number };
  /** Focal length of the photo in its pixels, where EXIF tells. */
  readonly focalPx?: number;
  /** The face placed by a person, where the photo alone was not enough. */
  readonly byHand?: HandPlacement;
  /** Which of several faces in the picture: the one nearest to this place. */
  readonly pick?: PhotoPx;
  /** The printed size this archer uses, for faces that look alike in photos. */
  readonly sizes?: UsualSizes;
  readonly record?: ArcherRecord;
  /** An AbortSignal, looked at between stages. */
  readonly signal?: { readonly aborted: boolean };
  /** Told before each stage and waited for: a shell that gives way here lets an abort arrive. */
  readonly onStage?: (stage: ReadingStage) => void | Promise<void>;
}

/**
 * Reads one photo of a face: rings, marks, score, groups, and what they say of the bow.
 * @throws ReadingError where the photo is the reason that it cannot be read
 */
export async function readPhoto(
  photo: Raster,
  request: ReadingRequest,
  engine: Engine,
  options: ReadPhotoOptions = {},
): Promise<Reading> {
  const enter = async (stage: ReadingStage) => {
    await options.onStage?.(stage);
    if (options.signal?.aborted)
      throw new ReadingError('cancelled', ENGLISH.say('Reading was cancelled.'));
  };

  await enter('face');
  const { fit, candidates } = fitFace(photo, fitOptions(request, options), engine.cv);
  let before: { photo: Raster; fit: FaceFit } | undefined;
  if (options.before) {
    await enter('before');
    const { photo: earlier, focalPx } = options.before;
    const about = { face: fit.face, ...(focalPx === undefined ? {} : { focalPx }) };
    before = { photo: earlier, fit: fitFace(earlier, about, engine.cv).fit };
  }

  await enter('marks');
  const shaftMm = request.shaftMm ?? ASSUMED_SHAFT_MM;
  const byItself = await findMarks(photo, fit, request, engine, before);
  let found = byItself;
  if (options.also) {
    await enter('also');
    const second = fitSecondView(options.also, fit.face, engine);
    found = joinViews(
      { fit, found: byItself },
      { fit: second, found: await findMarks(options.also.photo, second, request, engine, before) },
      expectedCount(request),
    );
  }

  await enter('score');
  const marks = withArrowNumbers(withKinds(found.marks, request), request.arrowNumbers);
  const {
    marks: scored,
    score,
    scoring,
    groups,
    tuning,
    guessedTags,
  } = judgeMarks({ face: fit.face, marks, request }, shaftMm, { record: options.record });
  return {
    face: fit.face,
    shaftMm,
    fit: describeFit(fit),
    marks: [...scored],
    score,
    scoring,
    groups,
    tuning,
    guessedTags,
    uncounted: found.uncounted,
    faces: candidates.filter(isLikely).map(({ centrePx, radiusPx }) => ({ centrePx, radiusPx })),
    warnings: [
      ...found.warnings,
      ...(scoring === request.scoring
        ? []
        : [
            ENGLISH.say('{scoring}: this face has no ten, so it is scored as printed.', {
              scoring: SCORINGS[request.scoring].name,
            }),
          ]),
      ...(request.shaftMm === undefined
        ? [
            ENGLISH.say(
              'No shaft diameter was given: marks were looked for, and lines called, as of {mm} mm. Give it, or holes of wider shafts may be overlooked.',
              { mm: ASSUMED_SHAFT_MM },
            ),
          ]
        : []),
    ],
  };
}

/** @throws ReadingError that says that it is the second photo which cannot be read */
function fitSecondView(
  { photo, focalPx }: NonNullable<ReadPhotoOptions['also']>,
  face: FaceId,
  { cv }: Engine,
): FaceFit {
  try {
    return fitFace(photo, { face, ...(focalPx === undefined ? {} : { focalPx }) }, cv).fit;
  } catch (error) {
    if (!(error instanceof ReadingError)) throw error;
    throw new ReadingError(
      error.code,
      ENGLISH.say('The second photo: {why}', { why: error.message }),
    );
  }
}

function fitOptions(
  { face }: ReadingRequest,
  { focalPx, byHand, pick, sizes }: ReadPhotoOptions,
): FitOptions {
  return {
    face,
    ...(focalPx === undefined ? {} : { focalPx }),
    ...(byHand === undefined ? {} : { byHand }),
    ...(pick === undefined ? {} : { pick }),
    ...(sizes === undefined ? {} : { sizes }),
  };
}
