import type { PhotoPx } from '../face/coordinates.ts';
import type { FaceChoice, UsualSizes } from './request.ts';

/** What is known of a face before it is looked for. */
export interface FitOptions {
  readonly face: FaceChoice;
  /** Focal length in pixels of the photo, from its EXIF data. */
  readonly focalPx?: number;
  /** Taps of a person: the face's centre and two places on the outer edge of one colour's ring. */
  readonly byHand?: HandPlacement;
  /** Where in the photo the wanted face is, when there are several. */
  readonly pick?: PhotoPx;
  /** The printed size this archer uses, for faces that look alike in photos. */
  readonly sizes?: UsualSizes;
}

export interface HandPlacement {
  readonly centrePx: PhotoPx;
  readonly edgesPx: readonly [PhotoPx, PhotoPx];
  /** Radius of the ring that was tapped, mm. @default the face's outermost ring */
  readonly radiusMm?: number;
}
