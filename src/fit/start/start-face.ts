import { FACES, type FaceId } from '../../face/faces.ts';
import { stiffPrior, turned, type CameraPrior, type CameraState } from '../camera/camera-state.ts';
import type { SpotCandidate } from '../find/find-candidates.ts';
import type { FaceCandidate } from '../find/group-spots.ts';
import { plainFit } from '../camera/plain-fit.ts';
import { photoToSheet } from '../camera/project.ts';
import { seatingsOf } from '../find/seat-spots.ts';
import { solveCamera, type CameraSolution, type RingPoint } from '../camera/solve-camera.ts';
import { borderPoints, movedOrigin, startCameras, type CameraStart } from './start-camera.ts';

/** First camera for a whole face, and how exact its points were, px. */
export interface FaceStart {
  readonly solution: CameraSolution;
  readonly sdPx: number;
}

/** A start from the borders of spots that were found. */
export interface FoundStart extends FaceStart, CameraStart {}

/** Error of the borders, one standard deviation in pixels of the copy that they were found on. */
const BORDER_SD = 0.6;

/**
 * First cameras for a face, likeliest first; several where the borders leave the tilt open, or where
 * not all spots of a sheet were found, one for each place that the found ones may have on it. None where
 * the borders show no face.
 *
 * @param factor Pixels of the photo to one of the copy on which the spots were found.
 */
export function startFace(
  candidate: FaceCandidate,
  spots: readonly SpotCandidate[],
  faceId: FaceId,
  { photoSize, factor }: { photoSize: readonly [number, number]; factor: number },
  prior: CameraPrior,
): FoundStart[] {
  const face = FACES[faceId];
  const sdPx = BORDER_SD * factor;
  const members = candidate.spots.map((i) => spots[i]!);
  const start = (camera: CameraStart): FoundStart => ({
    ...camera,
    sdPx: sdPx * Math.max(1, camera.solution.scale),
  });
  if (face.spotCentresMm.length === 1) {
    return startCameras(members[0]!, faceId, photoSize, prior, sdPx).map(start);
  }
  const reference = [...members].sort((a, b) => b.support - a.support)[0]!;
  const [first] = startCameras(reference, faceId, photoSize, prior, sdPx);
  if (!first) return [];
  // Where the other spots lie on the sheet of the reference spot says which one each is.
  const placesMm = members.map((spot) =>
    photoToSheet(plainFit(first.solution.state), spot.centrePx),
  );
  const seatings = seatingsOf(placesMm, face.spotCentresMm, members.indexOf(reference));
  return seatings.map(({ spots: seats, turnRad }): FoundStart => {
    const state: CameraState = {
      ...first.solution.state,
      rotation: turned(first.solution.state.rotation, 0, 0, turnRad),
      spotCentresMm: face.spotCentresMm,
    };
    const moved = movedOrigin(state, face.spotCentresMm[seats[members.indexOf(reference)]!]!);
    const points: RingPoint[] = members.flatMap((spot, i) =>
      borderPoints(face, seats[i]!, spot, sdPx),
    );
    const solution = solveCamera(moved, points, {
      prior: { ...stiffPrior(prior), spotShiftSd: 0.15, turnZSdRad: 1 },
      iterations: 40,
    });
    return start({ solution, offByBand: first.offByBand });
  });
}
