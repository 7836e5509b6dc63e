import { FACES, outerRadiusMm, type FaceId } from '../../src/face/faces.ts';
import type { FaceFit } from '../../src/fit/camera/face-fit.ts';

export interface CameraOptions {
  /** @default 'wa80' */
  readonly face?: FaceId;
  /** @default [2400, 1800] */
  readonly photoSize?: readonly [number, number];
  /** Angle between the optical axis and the face's normal. @default 0 */
  readonly tiltDeg?: number;
  /** Direction the face leans away to, counter-clockwise from the photo's right. @default 0 */
  readonly azimuthDeg?: number;
  /** Turn of the face in the photo, counter-clockwise. @default 0 */
  readonly rollDeg?: number;
  /** @default 0.75 of the photo's long side */
  readonly focalPx?: number;
  /** Distance of the face's middle along the optical axis. @default the face fills the frame */
  readonly distanceMm?: number;
  /** Where the face's middle is imaged, from the frame's middle. @default [0, 0] */
  readonly offsetPx?: readonly [number, number];
  readonly k1?: number;
  readonly k2?: number;
  readonly bulge?: readonly number[];
}

type Matrix3 = readonly number[];

function product(a: Matrix3, b: Matrix3): number[] {
  return [0, 1, 2].flatMap((i) =>
    [0, 1, 2].map((j) => [0, 1, 2].reduce((s, k) => s + a[3 * i + k]! * b[3 * k + j]!, 0)),
  );
}

/** Turn about the axis (cos, sin, 0) of the sheet by an angle. */
function turn(axis: readonly [number, number, number], angle: number): number[] {
  const [x, y, z] = axis;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const d = 1 - c;
  return [
    x * x * d + c,
    x * y * d - z * s,
    x * z * d + y * s,
    x * y * d + z * s,
    y * y * d + c,
    y * z * d - x * s,
    x * z * d - y * s,
    y * z * d + x * s,
    z * z * d + c,
  ];
}

/** A known camera looking at a face: the exact fit that an estimator should come back with. */
export function cameraFit(options: CameraOptions = {}): FaceFit {
  const face = options.face ?? 'wa80';
  const photoSize = options.photoSize ?? [2400, 1800];
  const tilt = ((options.tiltDeg ?? 0) * Math.PI) / 180;
  const azimuth = ((options.azimuthDeg ?? 0) * Math.PI) / 180;
  const roll = ((options.rollDeg ?? 0) * Math.PI) / 180;
  const focalPx = options.focalPx ?? 0.75 * Math.max(...photoSize);
  const reach =
    Math.max(...FACES[face].spotCentresMm.map(([x, y]) => Math.hypot(x, y))) +
    outerRadiusMm(FACES[face]);
  const distanceMm = options.distanceMm ?? (focalPx * reach) / (0.42 * Math.min(...photoSize));
  const [dx, dy] = options.offsetPx ?? [0, 0];
  // Facing the camera: x right, y up (against the image's y), z against the optical axis.
  const facing = [1, 0, 0, 0, -1, 0, 0, 0, -1];
  const lean = turn([-Math.sin(azimuth), Math.cos(azimuth), 0], tilt);
  const rotation = product(facing, product(lean, turn([0, 0, 1], roll)));
  return {
    face,
    photoSize,
    pose: {
      rotation,
      translationMm: [(dx * distanceMm) / focalPx, (dy * distanceMm) / focalPx, distanceMm],
    },
    focal: { px: focalPx, source: 'exif' },
    lens: {
      k1: options.k1 ?? 0,
      k2: options.k2 ?? 0,
      centrePx: [photoSize[0] / 2, photoSize[1] / 2],
    },
    bulge: options.bulge ?? [],
    spotCentresMm: FACES[face].spotCentresMm.map(([x, y]) => [x, y] as const),
    residualMm: 0,
    misfitMm: 0,
    tiltDeg: options.tiltDeg ?? 0,
    upFrom: 'person',
    upSdDeg: 0,
    covariance: [],
    notes: [],
  };
}
