import { FACES, type FaceId } from '../../face/faces.ts';
import { stiffPrior, turned, type CameraPrior, type CameraState } from '../camera/camera-state.ts';
import type { SpotCandidate } from '../find/find-candidates.ts';
import type { FaceCandidate } from '../find/group-spots.ts';
import { plainFit } from '../camera/plain-fit.ts';
import { photoToSheet } from '../camera/project.ts';
import { solveCamera, type CameraSolution, type RingPoint } from '../camera/solve-camera.ts';
import { borderPoints, startCamera } from './start-camera.ts';

/** First camera for a whole face, and how exact its points were, px. */
export interface FaceStart {
  readonly solution: CameraSolution;
  readonly sdPx: number;
}

/** Error of the borders, one standard deviation in pixels of the copy that they were found on. */
const BORDER_SD = 0.6;

/**
 * First cameras for a face, likeliest first; several where not all spots of a sheet were found, one
 * for each place that the found ones may have on it. None where the borders show no face.
 *
 * @param factor Pixels of the photo to one of the copy on which the spots were found.
 */
export function startFace(
  candidate: FaceCandidate,
  spots: readonly SpotCandidate[],
  faceId: FaceId,
  { photoSize, factor }: { photoSize: readonly [number, number]; factor: number },
  prior: CameraPrior,
): FaceStart[] {
  const face = FACES[faceId];
  const sdPx = BORDER_SD * factor;
  const members = candidate.spots.map((i) => spots[i]!);
  if (face.spotCentresMm.length === 1) {
    const solution = startCamera(members[0]!, faceId, photoSize, prior, sdPx);
    return solution ? [{ solution, sdPx: sdPx * Math.max(1, solution.scale) }] : [];
  }
  const reference = [...members].sort((a, b) => b.support - a.support)[0]!;
  const first = startCamera(reference, faceId, photoSize, prior, sdPx);
  if (!first) return [];
  // Where the other spots lie on the sheet of the reference spot says which one it is.
  const places = members.map((spot) => ({
    spot,
    mm: photoToSheet(plainFit(first.state), spot.centrePx),
  }));
  const far = places.reduce((a, b) => (Math.hypot(...a.mm) > Math.hypot(...b.mm) ? a : b));
  let state = first.state;
  if (Math.hypot(far.mm[0], far.mm[1]) > 1) {
    let axis = Math.atan2(far.mm[1], far.mm[0]);
    if (Math.sin(axis) < 0) axis += Math.PI;
    // The sheet's y axis runs along the row of spots, upward.
    state = { ...state, rotation: turned(state.rotation, 0, 0, axis - Math.PI / 2) };
  }
  const along = (mm: readonly [number, number]): number => {
    const sign = far.mm[1] < 0 ? -1 : 1;
    const length = Math.hypot(far.mm[0], far.mm[1]) || 1;
    return (sign * (mm[0] * far.mm[0] + mm[1] * far.mm[1])) / length;
  };
  const heights = places.map(({ spot, mm }) => ({ spot, y: along(mm) }));
  const spacing = face.spotCentresMm[0]![1] - face.spotCentresMm[1]![1];
  const highest = Math.max(...heights.map(({ y }) => y));
  const lowest = Math.min(...heights.map(({ y }) => y));
  const steps = Math.round((highest - lowest) / spacing);
  return [0, 1, 2].slice(0, Math.max(1, 3 - steps)).map((topIndex): FaceStart => {
    const indexed = heights.map(({ spot, y }) => ({
      spot,
      index: Math.min(2, Math.max(0, topIndex + Math.round((highest - y) / spacing))),
    }));
    const referenceIndex = indexed.find(({ spot }) => spot === reference)!.index;
    const moved = movedOrigin(state, face.spotCentresMm[referenceIndex]!);
    const points: RingPoint[] = indexed.flatMap(({ spot, index }) =>
      borderPoints(face, index, spot, sdPx),
    );
    const solution = solveCamera(moved, points, {
      prior: { ...stiffPrior(prior), spotShiftSd: 0.15, turnZSdRad: 1 },
      iterations: 40,
    });
    return { solution, sdPx: sdPx * Math.max(1, solution.scale) };
  });
}

/** Makes the point that was the sheet's origin the one at `at`. */
function movedOrigin(state: CameraState, at: readonly [number, number]): CameraState {
  const r = state.rotation;
  const [x, y, z] = state.translationMm;
  return {
    ...state,
    translationMm: [
      x - r[0]! * at[0] - r[1]! * at[1],
      y - r[3]! * at[0] - r[4]! * at[1],
      z - r[6]! * at[0] - r[7]! * at[1],
    ],
  };
}
