import { FACES, ringRadiiMm } from '../face/faces.ts';
import type { PhotoPx } from '../face/coordinates.ts';
import type { FaceFit } from '../fit/camera/face-fit.ts';
import { sheetToPhoto, spotToSheet } from '../fit/camera/project.ts';
import type { Reading } from './reading.ts';

const RING_POINTS = 72;
/** Short enough to be a direction at the centre, long enough to be far from rounding. */
const UP_STEP_MM = 5;

/** The fit as a reading tells it: rings as points of the photo, counter-clockwise from the right. */
export function describeFit(fit: FaceFit): Reading['fit'] {
  const radii = ringRadiiMm(FACES[fit.face]);
  return {
    residualMm: round(fit.residualMm, 3),
    tiltDeg: round(fit.tiltDeg, 2),
    spots: fit.spotCentresMm.map((_, spot) => {
      const at = (x: number, y: number) => sheetToPhoto(fit, spotToSheet(fit, spot, [x, y]));
      const centre = at(0, 0);
      const above = at(0, UP_STEP_MM);
      const step = Math.hypot(above[0] - centre[0], above[1] - centre[1]);
      return {
        centrePx: roundPx(centre),
        upPx: [
          round((above[0] - centre[0]) / step, 5),
          round((above[1] - centre[1]) / step, 5),
        ] as [number, number],
        rings: radii.map((radiusMm) => ({
          radiusMm,
          px: Array.from({ length: RING_POINTS }, (_, i) => {
            const angle = (i * 2 * Math.PI) / RING_POINTS;
            return roundPx(at(radiusMm * Math.cos(angle), radiusMm * Math.sin(angle)));
          }),
        })),
      };
    }),
    notes: [...fit.notes],
  };
}

function round(value: number, digits: number): number {
  const unit = 10 ** digits;
  return Math.round(value * unit) / unit;
}

function roundPx(px: PhotoPx): [number, number] {
  return [round(px[0], 2), round(px[1], 2)];
}
