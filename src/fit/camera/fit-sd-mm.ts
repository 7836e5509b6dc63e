import type { SheetMm, SpotMm } from '../../face/coordinates.ts';
import { PARAMETER, projectorOf, stateOfFit } from './camera-state.ts';
import type { FaceFit } from './face-fit.ts';
import { sheetToSpot, spotToSheet } from './project.ts';

/**
 * Covariance of the mapping at a point: of the sheet position, mm, that is read for a photo pixel
 * whose own place is exact. Row-major 2 x 2, mm^2. What the fit cannot follow counts as well.
 */
export function fitCovarianceMm(fit: FaceFit, mm: SheetMm): [number, number, number, number] {
  const size = fit.covariance.length;
  if (size === 0) return [0, 0, 0, 0];
  const projector = projectorOf(stateOfFit(fit));
  const rowX = new Float64Array(size);
  const rowY = new Float64Array(size);
  projector.slopes(mm[0], mm[1], rowX, rowY);
  const [ax, ay] = projector.alongX;
  const [bx, by] = projector.alongY;
  const determinant = ax * by - bx * ay;
  if (fit.spotCentresMm.length > 1) {
    // A position in a spot is read from that spot's own centre.
    const at = PARAMETER.bulge + fit.bulge.length + 2 * sheetToSpot(fit, mm).spot;
    [rowX[at], rowY[at]] = [ax, ay];
    [rowX[at + 1], rowY[at + 1]] = [bx, by];
  }
  const x = Float64Array.from(rowX, (value, i) => (by * value - bx * rowY[i]!) / determinant);
  const y = Float64Array.from(rowX, (value, i) => (-ay * value + ax * rowY[i]!) / determinant);
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (let i = 0; i < size; i++) {
    const row = fit.covariance[i]!;
    for (let j = 0; j < size; j++) {
      xx += x[i]! * row[j]! * x[j]!;
      xy += x[i]! * row[j]! * y[j]!;
      yy += y[i]! * row[j]! * y[j]!;
    }
  }
  const misfit = fit.misfitMm ** 2;
  return [xx + misfit, xy, xy, yy + misfit];
}

/** Predicted one-sigma uncertainty of the mapping at a point of the sheet, mm per axis. */
export function fitSdMm(fit: FaceFit, mm: SheetMm): number {
  const [xx, , , yy] = fitCovarianceMm(fit, mm);
  return Math.sqrt((xx + yy) / 2);
}

/**
 * Predicted one-sigma uncertainty of the distance from a spot's centre, mm: of where a ring lies,
 * seen from a mark at this place. Turns about the centre have no part in it.
 */
export function fitRadialSdMm(fit: FaceFit, spot: number, mm: SpotMm): number {
  const [xx, xy, , yy] = fitCovarianceMm(fit, spotToSheet(fit, spot, mm));
  const distance = Math.hypot(mm[0], mm[1]);
  if (distance === 0) return Math.sqrt((xx + yy) / 2);
  const [ux, uy] = [mm[0] / distance, mm[1] / distance];
  return Math.sqrt(Math.max(0, ux * ux * xx + 2 * ux * uy * xy + uy * uy * yy));
}
