import type { PhotoPx, SheetMm, SpotMm } from '../face/coordinates.ts';
import type { FaceId } from '../face/faces.ts';

/**
 * Where a face lies in a photo: the whole way from sheet millimetres to photo pixels and back, as
 * plain data. Use the functions of `project.ts`; nothing else may know the parameters' meaning.
 */
export interface FaceFit {
  readonly face: FaceId;
  readonly photoSize: readonly [width: number, height: number];
  /** Row-major 3 x 3: sheet mm (y up) to undistorted pixels about the principal point. */
  readonly homography: readonly number[];
  /** Radial distortion about the principal point, on pixels divided by half the photo's diagonal. */
  readonly lens: { readonly k1: number; readonly k2: number; readonly centrePx: PhotoPx };
  /** Smooth departure of the paper from a plane, in sheet mm; empty when the paper is flat. */
  readonly bulge: readonly number[];
  /** Focal length in pixels used for tilt and normals, and where it came from. */
  readonly focal: { readonly px: number; readonly source: 'exif' | 'estimated' | 'assumed' };
  /** Centres of the spots on the sheet as fitted, top to bottom, left to right. */
  readonly spotCentresMm: readonly SheetMm[];
  /** Robust rms of the ring edges used, in mm on the face. */
  readonly residualMm: number;
  /** Angle between the camera's axis and the face's normal, in degrees. */
  readonly tiltDeg: number;
  /** What the face's "up" was taken from. */
  readonly upFrom: 'paper-edges' | 'photo' | 'person';
  /** Covariance of the fitted parameters, as the fit orders them (see `project.ts`). */
  readonly covariance: readonly (readonly number[])[];
  /** What a person should know, each a sentence. */
  readonly notes: readonly string[];
}

/** A mark's place in every frame at once. */
export interface Placed {
  readonly spot: number;
  readonly mm: SpotMm;
  readonly px: PhotoPx;
}
