import type { Raster } from '../../raster/raster.ts';
import { shrink, type PhotoCopy } from '../../raster/shrink.ts';

/** A photo at its own size and as the small copy on which faces are found. */
export interface PhotoViews {
  readonly whole: PhotoCopy;
  readonly small: PhotoCopy;
}

/** Longer side of the small copy. */
const SMALL_PX = 1000;
/** Least width of a zone, in pixels of the small copy, with which rings are looked for on it. */
const LEAST_ZONE_PX = 8;

export function viewsOf(photo: Raster): PhotoViews {
  return { whole: { raster: photo, factor: 1 }, small: shrink(photo, SMALL_PX) };
}

/**
 * The view for looking far around: the small copy, unless it is too coarse to tell rings from their
 * neighbours.
 *
 * @param zonePx Width of an outer zone, pixels of the photo.
 */
export function farView({ whole, small }: PhotoViews, zonePx: number): PhotoCopy {
  return zonePx >= LEAST_ZONE_PX * small.factor ? small : whole;
}
