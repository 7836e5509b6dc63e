import type { PhotoPx, SheetMm } from '../../face/coordinates.ts';
import type { FaceId } from '../../face/faces.ts';

/**
 * Where a face lies in a photo: the whole way from sheet millimetres to photo pixels and back, as
 * plain data. Use the functions of `project.ts`; nothing else may know the parameters' meaning.
 *
 * The sheet's frame in space: x to the archer's right, y up, z out of the paper towards the archer,
 * mm. The camera's frame: x right, y down, z along the optical axis, mm.
 */
export interface FaceFit {
  readonly face: FaceId;
  readonly photoSize: readonly [width: number, height: number];
  /** A point of the sheet in the camera's frame is `rotation * point + translationMm`. */
  readonly pose: {
    /** Row-major 3 x 3. */
    readonly rotation: readonly number[];
    readonly translationMm: readonly [number, number, number];
  };
  /** Focal length in pixels, and where it came from. */
  readonly focal: { readonly px: number; readonly source: 'exif' | 'estimated' | 'assumed' };
  /**
   * Principal point and radial distortion about it: a point at distance r from it, in units of half
   * the photo's diagonal, is imaged at r * (1 + k1 r^2 + k2 r^4).
   */
  readonly lens: { readonly k1: number; readonly k2: number; readonly centrePx: PhotoPx };
  /**
   * Height of the paper over its mean plane, mm: coefficients of the polynomials of
   * `bulge-height.ts` over the sheet. Empty when the paper is taken as flat.
   */
  readonly bulge: readonly number[];
  /** Centres of the spots on the sheet as fitted, top to bottom, left to right. */
  readonly spotCentresMm: readonly SheetMm[];
  /** Robust rms of the ring edges used, in mm on the face. */
  readonly residualMm: number;
  /**
   * The part of that which neighbouring places on a ring share, mm: paper that is bent and print that is
   * stretched in ways that the fit cannot follow. Places between the rings are off by as much, each axis.
   */
  readonly misfitMm: number;
  /** Angle between the camera's axis and the face's normal, in degrees. */
  readonly tiltDeg: number;
  /** What the face's "up" was taken from. */
  readonly upFrom: 'paper-edges' | 'spots' | 'photo' | 'person';
  /** One-sigma uncertainty of the face's "up", degrees. */
  readonly upSdDeg: number;
  /** Covariance of the fitted parameters in the order of `camera-state.ts`. */
  readonly covariance: readonly (readonly number[])[];
  /** What a person should know, each a sentence. */
  readonly notes: readonly string[];
}
