import type { PhotoPx, SheetMm, SpotMm } from '../../face/coordinates.ts';
import { bulgeHeight } from './bulge-height.ts';
import type { FaceFit } from './face-fit.ts';

/** Half of the photo's diagonal in pixels: the unit of the lens model. */
export function halfDiagonalPx(photoSize: FaceFit['photoSize']): number {
  return Math.hypot(photoSize[0], photoSize[1]) / 2;
}

/** Image of a point of space given in the sheet's frame, mm. */
function project(fit: FaceFit, x: number, y: number, z: number): PhotoPx {
  const r = fit.pose.rotation;
  const t = fit.pose.translationMm;
  const depth = r[6]! * x + r[7]! * y + r[8]! * z + t[2];
  const scale = fit.focal.px / depth;
  const u = (r[0]! * x + r[1]! * y + r[2]! * z + t[0]) * scale;
  const v = (r[3]! * x + r[4]! * y + r[5]! * z + t[1]) * scale;
  const { k1, k2, centrePx } = fit.lens;
  const unit = halfDiagonalPx(fit.photoSize);
  const r2 = (u * u + v * v) / (unit * unit);
  const stretch = 1 + r2 * (k1 + r2 * k2);
  return [centrePx[0] + u * stretch, centrePx[1] + v * stretch];
}

/** Takes the lens distortion off: pixels about the principal point as a pinhole would image them. */
export function undistort(fit: FaceFit, px: PhotoPx): [number, number] {
  const { k1, k2, centrePx } = fit.lens;
  const unit = halfDiagonalPx(fit.photoSize);
  const u = px[0] - centrePx[0];
  const v = px[1] - centrePx[1];
  const imaged = Math.hypot(u, v) / unit;
  if (imaged === 0) return [0, 0];
  let radius = imaged;
  for (let i = 0; i < 20; i++) {
    const r2 = radius * radius;
    const error = radius * (1 + r2 * (k1 + r2 * k2)) - imaged;
    const slope = 1 + r2 * (3 * k1 + 5 * r2 * k2);
    const step = error / (Math.abs(slope) < 0.2 ? 0.2 : slope);
    radius -= step;
    if (Math.abs(step) < 1e-13) break;
  }
  return [(u * radius) / imaged, (v * radius) / imaged];
}

/** Image of a point of the paper. */
export function sheetToPhoto(fit: FaceFit, mm: SheetMm): PhotoPx {
  return project(fit, mm[0], mm[1], bulgeHeight(fit.face, fit.bulge, mm[0], mm[1]));
}

/** Image of the point `heightMm` above the paper at `mm`, along the face's normal to the archer. */
export function aboveFace(fit: FaceFit, mm: SheetMm, heightMm: number): PhotoPx {
  return project(fit, mm[0], mm[1], bulgeHeight(fit.face, fit.bulge, mm[0], mm[1]) + heightMm);
}

/** The point of the paper that is imaged at `px`; the paper is continued beyond its edges. */
export function photoToSheet(fit: FaceFit, px: PhotoPx): SheetMm {
  const [u, v] = undistort(fit, px);
  const r = fit.pose.rotation;
  const t = fit.pose.translationMm;
  const f = fit.focal.px;
  let x = 0;
  let y = 0;
  let height = 0;
  // The height changes slowly over the sheet: cut the ray with the plane at the last height.
  for (let i = 0; i < 30; i++) {
    const tx = t[0] + r[2]! * height;
    const ty = t[1] + r[5]! * height;
    const tz = t[2] + r[8]! * height;
    const a = f * r[0]! - u * r[6]!;
    const b = f * r[1]! - u * r[7]!;
    const c = f * r[3]! - v * r[6]!;
    const d = f * r[4]! - v * r[7]!;
    const p = u * tz - f * tx;
    const q = v * tz - f * ty;
    const determinant = a * d - b * c;
    const nextX = (p * d - b * q) / determinant;
    const nextY = (a * q - p * c) / determinant;
    const moved = Math.abs(nextX - x) + Math.abs(nextY - y);
    x = nextX;
    y = nextY;
    if (fit.bulge.length === 0 || moved < 1e-10) break;
    height = bulgeHeight(fit.face, fit.bulge, x, y);
  }
  return [x, y];
}

/** A position given from a spot's own centre, on the sheet. */
export function spotToSheet(
  fit: Pick<FaceFit, 'spotCentresMm'>,
  spot: number,
  mm: SpotMm,
): SheetMm {
  const centre = fit.spotCentresMm[spot]!;
  return [centre[0] + mm[0], centre[1] + mm[1]];
}

/** The spot a position on the sheet belongs to (the nearest), and the position from its centre. */
export function sheetToSpot(fit: FaceFit, mm: SheetMm): { spot: number; mm: SpotMm } {
  let spot = 0;
  let nearest = Infinity;
  fit.spotCentresMm.forEach((centre, index) => {
    const distance = Math.hypot(mm[0] - centre[0], mm[1] - centre[1]);
    if (distance < nearest) {
      nearest = distance;
      spot = index;
    }
  });
  const centre = fit.spotCentresMm[spot]!;
  return { spot, mm: [mm[0] - centre[0], mm[1] - centre[1]] };
}

/** Photo pixels per millimetre of paper at a point: the geometric mean over directions. */
export function pxPerMm(fit: FaceFit, mm: SheetMm): number {
  const step = 0.5;
  const right = sheetToPhoto(fit, [mm[0] + step, mm[1]]);
  const left = sheetToPhoto(fit, [mm[0] - step, mm[1]]);
  const above = sheetToPhoto(fit, [mm[0], mm[1] + step]);
  const below = sheetToPhoto(fit, [mm[0], mm[1] - step]);
  const ax = (right[0] - left[0]) / (2 * step);
  const ay = (right[1] - left[1]) / (2 * step);
  const bx = (above[0] - below[0]) / (2 * step);
  const by = (above[1] - below[1]) / (2 * step);
  return Math.sqrt(Math.abs(ax * by - ay * bx));
}

/** The camera in the sheet's frame, mm: its foot on the sheet, x and y, and its height over it. */
export function cameraOverSheet(fit: FaceFit): [number, number, number] {
  const r = fit.pose.rotation;
  const t = fit.pose.translationMm;
  const along = (axis: number) => -(r[axis]! * t[0] + r[axis + 3]! * t[1] + r[axis + 6]! * t[2]);
  return [along(0), along(1), along(2)];
}
