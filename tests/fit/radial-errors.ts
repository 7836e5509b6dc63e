import type { FaceFit } from '../../src/fit/camera/face-fit.ts';
import { fitRadialSdMm } from '../../src/fit/camera/fit-sd-mm.ts';
import { photoToSheet } from '../../src/fit/camera/project.ts';

type Pair = readonly [number, number];

export interface RadialErrors {
  readonly rmsMm: number;
  /** Rms of the errors in predicted standard deviations: 1 where the prediction is the true one. */
  readonly inSd: number;
}

/**
 * Errors of a fit along the radius at the true ring points of a photo.
 *
 * @param toPhoto Where a true point lies in the photo that was fitted; null for one that it lacks.
 */
export function radialErrors(
  spots: readonly {
    readonly rings: readonly {
      readonly radius_mm: number;
      readonly px: readonly (Pair | null)[];
    }[];
  }[],
  fit: FaceFit,
  toPhoto: (px: Pair) => Pair | null = (px) => px,
): RadialErrors {
  const errors: number[] = [];
  const inSd: number[] = [];
  spots.forEach(({ rings }, index) => {
    const [cx, cy] = fit.spotCentresMm[index]!;
    for (const ring of rings) {
      for (const px of ring.px) {
        const place = px && toPhoto(px);
        if (!place) continue;
        const [x, y] = photoToSheet(fit, place);
        const error = Math.hypot(x - cx, y - cy) - ring.radius_mm;
        errors.push(error);
        inSd.push(error / fitRadialSdMm(fit, index, [x - cx, y - cy]));
      }
    }
  });
  return { rmsMm: rms(errors), inSd: rms(inSd) };
}

function rms(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}
