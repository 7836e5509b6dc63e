import type { CameraPrior } from './camera-state.ts';
import { halfDiagonalPx } from './project.ts';

/** Phones' main cameras: 24 to 28 mm on a frame with a diagonal of 43.27 mm (from memory). */
const PHONE_FOCAL = 0.61;

/**
 * No lens of a phone is shorter than this part of the photo's diagonal (12 mm on a frame with a diagonal of
 * 43.27 mm, from memory), and a picture that is a part of its photo only makes it longer.
 */
const SHORTEST_FOCAL = 0.27;
const USUAL_FOCAL_SD = 0.05;

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

/**
 * Whether rings led to a lens that no camera has: seen from the front they hardly tell the lens, and
 * paper that is not flat then passes for one that is very close.
 */
export function isTooShort(photoSize: readonly [number, number], focalPx: number): boolean {
  return focalPx < SHORTEST_FOCAL * 2 * halfDiagonalPx(photoSize);
}

/** The same belief with a lens of its likeliest length. */
export function withUsualLens(prior: CameraPrior): CameraPrior {
  return { ...prior, logFocalSd: Math.min(prior.logFocalSd, USUAL_FOCAL_SD) };
}

/** Long lenses: of 85 and 170 mm on a frame with a diagonal of 43.27 mm, from the nearer to the farther. */
const LONG_FOCALS = [2, 4] as const;
const LONG_FOCAL_SD = 0.12;

/** What is believed of cameras with long lenses, one belief for each; none where the lens is known. */
export function longLensPriors(
  photoSize: readonly [number, number],
  prior: CameraPrior,
): CameraPrior[] {
  if (prior.logFocalSd === EXIF_FOCAL_SD) return [];
  const diagonal = 2 * halfDiagonalPx(photoSize);
  return LONG_FOCALS.map((focal) => ({
    ...prior,
    focalPx: focal * diagonal,
    logFocalSd: LONG_FOCAL_SD,
  }));
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
