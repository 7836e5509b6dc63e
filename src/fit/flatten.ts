import type { PhotoPx, SpotMm } from '../face/coordinates.ts';
import { outerRadiusMm, FACES } from '../face/faces.ts';
import { BLACK, packed, pixelWords, RED_BLUE } from '../raster/pixel-words.ts';
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

/** From so many photo pixels to a flat one the mean of several samples is taken. */
const DENSE_PX = 1.6;
/** Samples lie no further apart, in photo pixels: a little more than one still uses nearly all of them. */
const APART_PX = 1.1;
/** Most samples along a side: the sums of so many squared fit into half a word. */
const MOST_SAMPLES = 6;
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
  const samples =
    photoPxPerFlatPx < DENSE_PX
      ? 1
      : Math.min(MOST_SAMPLES, Math.ceil(photoPxPerFlatPx / APART_PX));
  const { width, height } = photo;
  const lastX = width - 1;
  const lastY = height - 1;
  const words = pixelWords(photo);
  const out = pixelWords({ width: side, height: side, data });
  out.fill(BLACK);
  const step = 1 / (samples * CELL_PX);

  for (let y = 0; y < side; y++) {
    const cellRow = Math.floor(y / CELL_PX);
    const b = (y + 0.5 / samples) / CELL_PX - cellRow;
    for (let cell = 0; cell < cells; cell++) {
      const corner = cellRow * cornersPerRow + cell;
      const below = corner + cornersPerRow;
      // Within a cell the way into the photo is as good as straight.
      const leftX = cornerX[corner]! * (1 - b) + cornerX[below]! * b;
      const leftY = cornerY[corner]! * (1 - b) + cornerY[below]! * b;
      const acrossX = (cornerX[corner + 1]! * (1 - b) + cornerX[below + 1]! * b - leftX) * step;
      const acrossY = (cornerY[corner + 1]! * (1 - b) + cornerY[below + 1]! * b - leftY) * step;
      const downX =
        ((cornerX[below]! + cornerX[below + 1]! - cornerX[corner]! - cornerX[corner + 1]!) / 2) *
        step;
      const downY =
        ((cornerY[below]! + cornerY[below + 1]! - cornerY[corner]! - cornerY[corner + 1]!) / 2) *
        step;
      const end = Math.min(side, (cell + 1) * CELL_PX);
      for (let x = cell * CELL_PX; x < end; x++) {
        const into = (x - cell * CELL_PX) * samples + 0.5;
        const firstX = leftX + into * acrossX;
        const firstY = leftY + into * acrossY;
        const at = y * side + x;
        if (samples === 1) {
          if (!(firstX >= 0 && firstY >= 0 && firstX <= lastX && firstY <= lastY)) continue;
          out[at] = bilinear(
            words,
            width,
            Math.min(firstX, lastX - 1e-3),
            Math.min(firstY, lastY - 1e-3),
          );
          seen[at] = 1;
          continue;
        }
        let redBlue = 0;
        let green = 0;
        let taken = 0;
        for (let sy = 0; sy < samples; sy++) {
          for (let sx = 0; sx < samples; sx++) {
            const px = firstX + sx * acrossX + sy * downX;
            const py = firstY + sx * acrossY + sy * downY;
            if (!(px >= 0 && py >= 0 && px <= lastX && py <= lastY)) continue;
            const word = words[((py + 0.5) | 0) * width + ((px + 0.5) | 0)]!;
            redBlue += word & RED_BLUE;
            green += (word >>> 8) & 0xff;
            taken++;
          }
        }
        if (taken === 0) continue;
        const share = 1 / taken;
        out[at] = packed((redBlue & 0xffff) * share, green * share, (redBlue >>> 16) * share);
        seen[at] = 1;
      }
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

/** Colour at a place between four pixels, counted from the first pixel's centre. */
function bilinear(words: Uint32Array, width: number, px: number, py: number): number {
  const left = Math.floor(px);
  const top = Math.floor(py);
  const fx = px - left;
  const fy = py - top;
  const at = top * width + left;
  const a = words[at]!;
  const b = words[at + 1]!;
  const c = words[at + width]!;
  const d = words[at + width + 1]!;
  const w00 = (1 - fx) * (1 - fy);
  const w10 = fx * (1 - fy);
  const w01 = (1 - fx) * fy;
  const w11 = fx * fy;
  return packed(
    w00 * (a & 0xff) + w10 * (b & 0xff) + w01 * (c & 0xff) + w11 * (d & 0xff),
    w00 * ((a >>> 8) & 0xff) +
      w10 * ((b >>> 8) & 0xff) +
      w01 * ((c >>> 8) & 0xff) +
      w11 * ((d >>> 8) & 0xff),
    w00 * ((a >>> 16) & 0xff) +
      w10 * ((b >>> 16) & 0xff) +
      w01 * ((c >>> 16) & 0xff) +
      w11 * ((d >>> 16) & 0xff),
  );
}
