import type { PhotoPx, SpotMm } from '../../face/coordinates.ts';
import { outerRadiusMm, FACES } from '../../face/faces.ts';
import { BLACK, pixelWords, wordRaster } from '../../raster/pixel-words.ts';
import type { Raster } from '../../raster/raster.ts';
import type { FaceFit } from '../camera/face-fit.ts';
import { paintCell, type CellTarget, type CellWay } from './paint-cell.ts';
import { pxPerMm, sheetToPhoto, spotToSheet } from '../camera/project.ts';

/** The way between the pixels of a flat face and millimetres. */
interface FlatFrame {
  /** Side of a pixel, mm. */
  readonly mmPerPx: number;
  /** The raster shows -halfWidthMm to +halfWidthMm both ways about `centreMm`. */
  readonly halfWidthMm: number;
  readonly centreMm: SpotMm;
}

/** A spot of the face as seen straight on. */
export interface FlatFace extends FlatFrame {
  readonly raster: Raster;
  readonly spot: number;
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
export function spotToFlat(
  { centreMm, halfWidthMm, mmPerPx }: FlatFrame,
  mm: SpotMm,
): [number, number] {
  return [
    (mm[0] - centreMm[0] + halfWidthMm) / mmPerPx,
    (halfWidthMm + centreMm[1] - mm[1]) / mmPerPx,
  ];
}

/** Position in the spot for a pixel of the flat face (centre of the first one (0.5, 0.5)). */
export function flatToSpot(
  { centreMm, halfWidthMm, mmPerPx }: FlatFrame,
  px: readonly [number, number],
): SpotMm {
  return [centreMm[0] + px[0] * mmPerPx - halfWidthMm, centreMm[1] + halfWidthMm - px[1] * mmPerPx];
}

/** From so many photo pixels to a flat one the mean of several samples is taken. */
const DENSE_PX = 1.6;
/** Samples lie no further apart, in photo pixels: a little more than one still uses nearly all of them. */
const APART_PX = 1.1;
/** Most samples along a side. */
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
  const frame: FlatFrame = { mmPerPx, halfWidthMm: (side * mmPerPx) / 2, centreMm };
  const data = new Uint8ClampedArray(side * side * 4);
  const seen = new Uint8Array(side * side);

  const photoPxPerFlatPx = pxPerMm(fit, spotToSheet(fit, spot, centreMm)) * mmPerPx;
  const samples =
    photoPxPerFlatPx < DENSE_PX
      ? 1
      : Math.min(MOST_SAMPLES, Math.ceil(photoPxPerFlatPx / APART_PX));
  const source = wordRaster(photo);
  const words = pixelWords({ width: side, height: side, data });
  words.fill(BLACK);
  const toPhoto = (column: number, row: number): PhotoPx =>
    sheetToPhoto(fit, spotToSheet(fit, spot, flatToSpot(frame, [column, row])));
  const cells = Math.ceil(side / CELL_PX);
  const cornersAt = (row: number): PhotoPx[] =>
    Array.from({ length: cells + 1 }, (_, cell) => toPhoto(cell * CELL_PX, row * CELL_PX));
  let above = cornersAt(0);
  for (let row = 0; row < cells; row++) {
    const below = cornersAt(row + 1);
    for (let cell = 0; cell < cells; cell++) {
      const way = wayBetween(above[cell]!, above[cell + 1]!, below[cell]!, below[cell + 1]!);
      const target: CellTarget = {
        words,
        seen,
        stride: side,
        from: row * CELL_PX * side + cell * CELL_PX,
        columns: Math.min(CELL_PX, side - cell * CELL_PX),
        rows: Math.min(CELL_PX, side - row * CELL_PX),
      };
      paintCell(source, way, target, samples);
    }
    above = below;
  }
  return { ...frame, raster: { width: side, height: side, data }, spot, seen };
}

/** The way over a cell with these corners in the photo: within so little it is as good as straight. */
function wayBetween(
  topLeft: PhotoPx,
  topRight: PhotoPx,
  bottomLeft: PhotoPx,
  bottomRight: PhotoPx,
): CellWay {
  const acrossX = (topRight[0] - topLeft[0]) / CELL_PX;
  const acrossY = (topRight[1] - topLeft[1]) / CELL_PX;
  return {
    // Places count from the first pixel's centre.
    x: topLeft[0] - 0.5,
    y: topLeft[1] - 0.5,
    acrossX,
    acrossY,
    downX: (bottomLeft[0] - topLeft[0]) / CELL_PX,
    downY: (bottomLeft[1] - topLeft[1]) / CELL_PX,
    twistX: ((bottomRight[0] - bottomLeft[0]) / CELL_PX - acrossX) / CELL_PX,
    twistY: ((bottomRight[1] - bottomLeft[1]) / CELL_PX - acrossY) / CELL_PX,
  };
}
