import type { CameraPrior } from './camera-state.ts';
import { halfDiagonalPx } from './project.ts';

/** Phones' main cameras: 24 to 28 mm on a frame with a diagonal of 43.27 mm (from memory). */
const PHONE_FOCAL = 0.61;

/** EXIF gives whole millimetres, and crops and stabilisation change the scale a little. */
export const EXIF_FOCAL_SD = 0.03;

/** What is believed of a phone's camera and of paper on a boss. */
export function priorOf(
  photoSize: readonly [number, number],
  focalPx: number | undefined,
): CameraPrior {
  const diagonal = 2 * halfDiagonalPx(photoSize);
  return {
    focalPx: focalPx ?? PHONE_FOCAL * diagonal,
    logFocalSd: focalPx === undefined ? 0.25 : EXIF_FOCAL_SD,
    centreSdPx: 0.005 * diagonal,
    k1Sd: 0.04,
    k2Sd: 0.02,
    bulgeSd: 0.006,
    turnZSdRad: 1e-3,
    spotShiftSd: 0.05,
    ringOffsetSd: 0.006,
  };
}

/** What is believed of the camera where the picture is a part of its photo, cut out anywhere. */
export function partPrior(pictureSize: readonly [number, number], prior: CameraPrior): CameraPrior {
  const diagonal = 2 * halfDiagonalPx(pictureSize);
  return {
    ...prior,
    focalPx: PHONE_FOCAL * diagonal,
    logFocalSd: 0.3,
    centreSdPx: 0.2 * diagonal,
  };
}
