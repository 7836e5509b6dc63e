import type { PhotoPx, SpotMm } from '../face/coordinates.ts';
import { outerRadiusMm, FACES } from '../face/faces.ts';
import type { Raster } from '../raster/raster.ts';
import type { FaceFit } from './face-fit.ts';
import { pxPerMm, sheetToPhoto, spotToSheet } from './project.ts';

/** A spot of the face as seen straight on, with the way between its pixels and millimetres. */
export interface FlatFace {
  readonly raster: Raster;
  readonly spot: number;
  /** Side of a pixel, mm. */
  readonly mmPerPx: number;
  /** The raster shows -halfWidthMm to +halfWidthMm both ways about `centreMm`. */
  readonly halfWidthMm: number;
  readonly centreMm: SpotMm;
  /** 1 where the photo shows the point, 0 where it lies outside the frame; one byte per pixel. */
  readonly seen: Uint8Array;
}

export interface FlattenOptions {
  readonly spot: number;
  readonly mmPerPx: number;
  /** @default the outermost ring's radius plus a twentieth */
  readonly halfWidthMm?: number;
  /** Middle of what is shown; may lie off the paper, whose plane is continued. @default [0, 0] */
  readonly centreMm?: SpotMm;
}

/** Pixel of the flat face (centre of the first one (0.5, 0.5)) for a position in the spot. */
export function spotToFlat(flat: FlatFace, mm: SpotMm): [number, number] {
  const { centreMm, halfWidthMm, mmPerPx } = flat;
  return [
    (mm[0] - centreMm[0] + halfWidthMm) / mmPerPx,
    (halfWidthMm + centreMm[1] - mm[1]) / mmPerPx,
  ];
}

/** Position in the spot for a pixel of the flat face (centre of the first one (0.5, 0.5)). */
export function flatToSpot(flat: FlatFace, px: readonly [number, number]): SpotMm {
  const { centreMm, halfWidthMm, mmPerPx } = flat;
  return [centreMm[0] + px[0] * mmPerPx - halfWidthMm, centreMm[1] + halfWidthMm - px[1] * mmPerPx];
}

/** So many samples along a side lie closer than photo pixels: the mean of nearest ones does. */
const DENSE = 3;
/** Exact projections are made at the corners of cells of this many flat pixels. */
const CELL_PX = 8;

/**
 * Unrolls one spot of the face: upright, square on, at a fixed scale, lens and bulge taken off.
 * Where the photo is finer than the flat raster several samples are averaged, so that thin lines
 * and noise do not alias.
 */
export function flatten(photo: Raster, fit: FaceFit, options: FlattenOptions): FlatFace {
  const { spot, mmPerPx, centreMm = [0, 0] } = options;
  const wanted = options.halfWidthMm ?? outerRadiusMm(FACES[fit.face]) * 1.05;
  const side = Math.max(1, Math.round((2 * wanted) / mmPerPx));
  const halfWidthMm = (side * mmPerPx) / 2;
  const data = new Uint8ClampedArray(side * side * 4);
  const seen = new Uint8Array(side * side);

  const cells = Math.ceil(side / CELL_PX);
  const cornersPerRow = cells + 1;
  const cornerX = new Float64Array(cornersPerRow * cornersPerRow);
  const cornerY = new Float64Array(cornersPerRow * cornersPerRow);
  for (let row = 0; row <= cells; row++) {
    for (let column = 0; column <= cells; column++) {
      const mm: SpotMm = [
        centreMm[0] + column * CELL_PX * mmPerPx - halfWidthMm,
        centreMm[1] + halfWidthMm - row * CELL_PX * mmPerPx,
      ];
      const px: PhotoPx = sheetToPhoto(fit, spotToSheet(fit, spot, mm));
      // Sample positions count from the first pixel's centre.
      cornerX[row * cornersPerRow + column] = px[0] - 0.5;
      cornerY[row * cornersPerRow + column] = px[1] - 0.5;
    }
  }

  const photoPxPerFlatPx = pxPerMm(fit, spotToSheet(fit, spot, centreMm)) * mmPerPx;
  const samples = Math.min(6, Math.max(1, Math.round(photoPxPerFlatPx)));
  const lastX = photo.width - 1;
  const lastY = photo.height - 1;
  const source = photo.data;
  const stride = photo.width * 4;

  for (let y = 0; y < side; y++) {
    const cellRow = Math.floor(y / CELL_PX);
    for (let x = 0; x < side; x++) {
      const cellColumn = Math.floor(x / CELL_PX);
      const corner = cellRow * cornersPerRow + cellColumn;
      const x00 = cornerX[corner]!;
      const x10 = cornerX[corner + 1]!;
      const x01 = cornerX[corner + cornersPerRow]!;
      const x11 = cornerX[corner + cornersPerRow + 1]!;
      const y00 = cornerY[corner]!;
      const y10 = cornerY[corner + 1]!;
      const y01 = cornerY[corner + cornersPerRow]!;
      const y11 = cornerY[corner + cornersPerRow + 1]!;
      // Over one flat pixel the way into the photo is as good as straight.
      const a = (x + 0.5 / samples) / CELL_PX - cellColumn;
      const b = (y + 0.5 / samples) / CELL_PX - cellRow;
      const step = 1 / (samples * CELL_PX);
      const firstX = (x00 * (1 - a) + x10 * a) * (1 - b) + (x01 * (1 - a) + x11 * a) * b;
      const firstY = (y00 * (1 - a) + y10 * a) * (1 - b) + (y01 * (1 - a) + y11 * a) * b;
      const acrossX = ((x10 - x00) * (1 - b) + (x11 - x01) * b) * step;
      const acrossY = ((y10 - y00) * (1 - b) + (y11 - y01) * b) * step;
      const downX = ((x01 - x00) * (1 - a) + (x11 - x10) * a) * step;
      const downY = ((y01 - y00) * (1 - a) + (y11 - y10) * a) * step;
      let red = 0;
      let green = 0;
      let blue = 0;
      let taken = 0;
      for (let sy = 0; sy < samples; sy++) {
        for (let sx = 0; sx < samples; sx++) {
          const px = firstX + sx * acrossX + sy * downX;
          const py = firstY + sx * acrossY + sy * downY;
          if (!(px >= 0 && py >= 0 && px <= lastX && py <= lastY)) continue;
          taken++;
          if (samples >= DENSE) {
            const i = ((py + 0.5) | 0) * stride + ((px + 0.5) | 0) * 4;
            red += source[i]!;
            green += source[i + 1]!;
            blue += source[i + 2]!;
            continue;
          }
          const left = Math.min(Math.floor(px), lastX - 1);
          const top = Math.min(Math.floor(py), lastY - 1);
          const fx = px - left;
          const fy = py - top;
          const i = top * stride + left * 4;
          const w00 = (1 - fx) * (1 - fy);
          const w10 = fx * (1 - fy);
          const w01 = (1 - fx) * fy;
          const w11 = fx * fy;
          const k = i + stride;
          red += w00 * source[i]! + w10 * source[i + 4]! + w01 * source[k]! + w11 * source[k + 4]!;
          green +=
            w00 * source[i + 1]! +
            w10 * source[i + 5]! +
            w01 * source[k + 1]! +
            w11 * source[k + 5]!;
          blue +=
            w00 * source[i + 2]! +
            w10 * source[i + 6]! +
            w01 * source[k + 2]! +
            w11 * source[k + 6]!;
        }
      }
      const o = (y * side + x) * 4;
      data[o + 3] = 255;
      if (taken === 0) continue;
      data[o] = red / taken;
      data[o + 1] = green / taken;
      data[o + 2] = blue / taken;
      seen[y * side + x] = 1;
    }
  }
  return {
    raster: { width: side, height: side, data },
    spot,
    mmPerPx,
    halfWidthMm,
    centreMm,
    seen,
  };
}
