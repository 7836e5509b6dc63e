import { FACES, outerRadiusMm, ringRadiiMm, type FaceId } from '../../face/faces.ts';
import { middleSpot } from '../../face/looks.ts';
import { stiffPrior, type CameraPrior, type CameraState } from '../camera/camera-state.ts';
import type { HandPlacement } from '../../request/fit-options.ts';
import { farView, type PhotoViews } from '../edges/photo-views.ts';
import { ringEdges } from '../edges/ring-edges.ts';
import { solveCamera } from '../camera/solve-camera.ts';
import { movedOrigin, uprightRotation } from './start-camera.ts';
import type { FaceStart } from './start-face.ts';

const TILTS_DEG = [0, 15, 28, 40, 52];
const AZIMUTHS = 12;
/** A finger's error, as a part of the distance from the centre. */
const TAP_ERROR = 0.03;

/**
 * First cameras from a person's taps on the centre and on two places of one ring. On a sheet of several
 * spots they are those of the spot in its middle; where none is there, any may be meant.
 */
export function startByHand(
  views: PhotoViews,
  taps: HandPlacement,
  faceId: FaceId,
  prior: CameraPrior,
): FaceStart[] {
  const { spotCentresMm } = FACES[faceId];
  const middle = middleSpot(FACES[faceId]);
  const meant =
    Math.hypot(...spotCentresMm[middle]!) < ringGap(faceId)
      ? [middle]
      : spotCentresMm.map((_, spot) => spot);
  return meant.flatMap((spot) => startOnSpot(views, taps, faceId, spot, prior) ?? []);
}

/**
 * Two places leave the tilt open: those tilts that bring both taps to the ring's radius are tried, and
 * the one under which most ring edges are found where they should be is kept.
 */
function startOnSpot(
  views: PhotoViews,
  taps: HandPlacement,
  faceId: FaceId,
  spot: number,
  prior: CameraPrior,
): FaceStart | null {
  const face = FACES[faceId];
  const { width, height } = views.whole.raster;
  const photoSize = [width, height] as const;
  const radiusMm = taps.radiusMm ?? outerRadiusMm(face);
  const reaches = taps.edgesPx.map(([x, y]) =>
    Math.hypot(x - taps.centrePx[0], y - taps.centrePx[1]),
  );
  const reachPx = Math.max(...reaches);
  if (!(Math.min(...reaches) > 0)) return null;
  const gapPx = (reachPx * ringGap(faceId)) / radiusMm;
  const view = farView(views, gapPx);
  let best: { state: CameraState; merit: number } | null = null;
  for (const tiltDeg of TILTS_DEG) {
    for (let k = 0; k < (tiltDeg === 0 ? 1 : AZIMUTHS); k++) {
      const tilt = (tiltDeg * Math.PI) / 180;
      const azimuth = (2 * Math.PI * k) / AZIMUTHS;
      const rotation = uprightRotation([
        Math.sin(tilt) * Math.cos(azimuth),
        Math.sin(tilt) * Math.sin(azimuth),
        -Math.cos(tilt),
      ]);
      const placedState = placed(rotation, taps, radiusMm, faceId, photoSize, prior);
      if (!placedState) continue;
      const state = movedOrigin(placedState, face.spotCentresMm[spot]!);
      const { points } = ringEdges(view, state, {
        look: { lineMm: 0.0025 * outerRadiusMm(face), blurPx: 1.2 },
        reachPx: () => 0.3 * gapPx,
        blocks: 24,
      });
      if (points.length < 20) continue;
      const solution = solveCamera(state, points, {
        prior: { ...stiffPrior(prior), turnZSdRad: 0, spotShiftSd: 0 },
        iterations: 12,
      });
      // Edges that agree on one camera, each counted the less the farther off it lies.
      let merit = 0;
      for (let i = 0; i < points.length; i++) {
        merit += 1 / (1 + (solution.residualPx[i]! / (0.03 * gapPx + 0.5)) ** 2);
      }
      if (!best || merit > best.merit) best = { state: solution.state, merit };
    }
  }
  if (!best) return null;
  const { points } = ringEdges(views.whole, best.state, {
    look: { lineMm: 0.0025 * outerRadiusMm(face), blurPx: 1.2 },
    reachPx: () => 0.2 * gapPx,
    blocks: 36,
  });
  const solution = solveCamera(
    best.state,
    points.filter((point) => point.spot === spot),
    { prior: { ...stiffPrior(prior), turnZSdRad: 0, spotShiftSd: 0 } },
  );
  return { solution, sdPx: 1 };
}

/** Widest zone of the face, mm. */
function ringGap(faceId: FaceId): number {
  const radii = ringRadiiMm(FACES[faceId]);
  return radii[0]! - radii[1]!;
}

/** The state with this rotation that shows the tapped centre, as the sheet's, and ring where they were tapped. */
function placed(
  rotation: number[],
  taps: HandPlacement,
  radiusMm: number,
  faceId: FaceId,
  photoSize: readonly [number, number],
  prior: CameraPrior,
): CameraState | null {
  const f = prior.focalPx;
  const [cx, cy] = [photoSize[0] / 2, photoSize[1] / 2];
  const [u, v] = [(taps.centrePx[0] - cx) / f, (taps.centrePx[1] - cy) / f];
  const r = rotation;
  // The ray through a tap cuts the plane through (u, v, 1): distances scale with the depth.
  const radii = taps.edgesPx.map(([x, y]) => {
    const ray = [(x - cx) / f, (y - cy) / f, 1] as const;
    const normal = [r[2]!, r[5]!, r[8]!] as const;
    const level = normal[0] * u + normal[1] * v + normal[2];
    const along = level / (normal[0] * ray[0] + normal[1] * ray[1] + normal[2] * ray[2]);
    return Math.hypot(ray[0] * along - u, ray[1] * along - v, along - 1);
  });
  const mean = (radii[0]! + radii[1]!) / 2;
  if (!(mean > 0) || Math.abs(radii[0]! - radii[1]!) / mean > 4 * TAP_ERROR) return null;
  const depth = radiusMm / mean;
  const face = FACES[faceId];
  return {
    face: faceId,
    photoSize,
    rotation,
    translationMm: [u * depth, v * depth, depth],
    focalPx: f,
    centrePx: [cx, cy],
    k1: 0,
    k2: 0,
    bulge: [],
    spotCentresMm: face.spotCentresMm,
    ringOffsetsMm: ringRadiiMm(face).map(() => 0),
  };
}
