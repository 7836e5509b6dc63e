import { FACES, outerRadiusMm, type Face } from '../../face/faces.ts';
import type { FaceFit } from '../../fit/camera/face-fit.ts';
import { flatten, type FlatFace } from '../../fit/flat/flatten.ts';
import { pxPerMm, spotToSheet } from '../../fit/camera/project.ts';
import type { Raster } from '../../raster/raster.ts';
import { exposed } from './exposed.ts';
import { misfitOf, type Misfit } from './expected-face.ts';
import { numberCells, type NumberCell } from './number-rows.ts';

/** One spot of a photo seen straight on, with all that departs from the printed face. */
export interface SpotView {
  readonly face: Face;
  readonly flat: FlatFace;
  readonly misfit: Misfit;
  /** Where ring numbers stand. */
  readonly printed: readonly NumberCell[];
  readonly shaftMm: number;
}

/** At this scale both holes and arrows are seen best. */
const SHAFT_PX = 10;
/** Widest flat face worked on, px; bounds time and memory. */
const MOST_PX = 1300;

/**
 * Looks at a spot at the scale, and as bright, as marks are looked for.
 *
 * @param shaftPx Flat pixels across a shaft, where the photo is as fine as that.
 */
export function viewSpot(
  photo: Raster,
  fit: FaceFit,
  spot: number,
  shaftMm: number,
  shaftPx = SHAFT_PX,
): SpotView {
  return viewOf(flatSpot(photo, fit, spot, shaftMm, shaftPx), fit, shaftMm);
}

/** The spot alone of what `viewSpot` looks at. */
export function flatSpot(
  photo: Raster,
  fit: FaceFit,
  spot: number,
  shaftMm: number,
  shaftPx = SHAFT_PX,
): FlatFace {
  const halfWidthMm = outerRadiusMm(FACES[fit.face]) + 3 * shaftMm;
  const finestMm = 0.8 / pxPerMm(fit, spotToSheet(fit, spot, [0, 0]));
  const mmPerPx = Math.max(shaftMm / shaftPx, finestMm, (2 * halfWidthMm) / MOST_PX);
  return exposed(flatten(photo, fit, { spot, mmPerPx, halfWidthMm }));
}

/** What departs from the printed face on a spot. @param flat As `flatSpot` makes it. */
export function viewOf(flat: FlatFace, fit: FaceFit, shaftMm: number): SpotView {
  const face = FACES[fit.face];
  const misfit = misfitOf(flat, shaftMm, outerRadiusMm(face) + shaftMm);
  return { face, flat, misfit, printed: numberCells(face, flat, misfit), shaftMm };
}
