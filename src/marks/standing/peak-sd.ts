import type { PhotoPx, SpotMm } from '../../face/coordinates.ts';
import type { FaceFit } from '../../fit/camera/face-fit.ts';
import { sheetToPhoto, spotToSheet } from '../../fit/camera/project.ts';

/** Pixels of the photo that show a millimetre of the face, along a shaft and across it. */
export interface PhotoScale {
  readonly alongPxPerMm: number;
  readonly acrossPxPerMm: number;
}

/**
 * One sigma of where the heat of an entry peaks that is seen closely, at the given heat, along the shaft and
 * across it: parts of the shaft and of the photo's pixels, as drawn photos of arrows show (90 % of true
 * entries lie within 1.645 of them). The fainter the heat, the less exact is its peak.
 */
const CLOSE_PEAK_SD = {
  heat: 0.6,
  along: { shafts: 0.073, px: 0.72 },
  across: { shafts: 0.058, px: 0.43 },
} as const;
/** Fainter and stronger heat than this tells no more of how exact its peak is. */
const PEAK_HEAT = [0.15, 0.7] as const;

/** One sigma of a peak of heat that is seen closely, in shafts. */
export function peakSd(
  heat: number,
  shaftMm: number,
  photo: PhotoScale,
): { alongSd: number; acrossSd: number } {
  const [faint, strong] = PEAK_HEAT;
  const { along, across } = CLOSE_PEAK_SD;
  const factor = CLOSE_PEAK_SD.heat / Math.max(faint, Math.min(strong, heat));
  return {
    alongSd: factor * Math.hypot(along.shafts, along.px / (photo.alongPxPerMm * shaftMm)),
    acrossSd: factor * Math.hypot(across.shafts, across.px / (photo.acrossPxPerMm * shaftMm)),
  };
}

/** Pixels of the photo that show a millimetre of the face along a direction, and across it. */
export function pxAlong(
  fit: FaceFit,
  spot: number,
  mm: SpotMm,
  [ux, uy]: readonly [number, number],
): PhotoScale {
  const scale = (dx: number, dy: number): number => {
    const [a, b] = [-1, 1].map((way) =>
      sheetToPhoto(fit, spotToSheet(fit, spot, [mm[0] + way * dx, mm[1] + way * dy])),
    ) as [PhotoPx, PhotoPx];
    return Math.hypot(b[0] - a[0], b[1] - a[1]) / 2;
  };
  return { alongPxPerMm: scale(ux, uy), acrossPxPerMm: scale(-uy, ux) };
}
