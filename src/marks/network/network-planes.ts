import { FACES, type Face } from '../../face/faces.ts';
import { flatToSpot, type FlatFace } from '../../fit/flatten.ts';
import type { FaceFit } from '../../fit/face-fit.ts';
import { spotToSheet } from '../../fit/project.ts';
import type { Raster } from '../../raster/raster.ts';

/** Input planes of the network; the training's `model.py` describes the same order. */
export const INPUT_PLANES = 7;

/** Shaft width in flat pixels at which the scale plane is 0. */
const REFERENCE_SHAFT_PX = 8;

/** Width of a printed dividing line; a published rule allows up to 2 mm, prints show about 1. */
const LINE_MM = 1;

/** A window of the flat face, seen at `pxPerStep` flat pixels per network pixel. */
export interface Window {
  /** Top-left corner in flat pixels; may lie outside the picture. */
  readonly leftPx: number;
  readonly topPx: number;
  /** Side in network pixels. */
  readonly side: number;
  readonly pxPerStep: number;
}

/** Camera position in the sheet's frame, mm: x, y and the height above the paper. */
export function cameraInSheetMm(fit: FaceFit): [number, number, number] {
  const r = fit.pose.rotation;
  const t = fit.pose.translationMm;
  const along = (axis: number) => -(r[axis]! * t[0] + r[axis + 3]! * t[1] + r[axis + 6]! * t[2]);
  return [along(0), along(1), along(2)];
}

/** Ring radii with a printed line, mm, at the middle of the line. */
function lineRadiiMm(face: Face): Float64Array {
  const radii = face.zones
    .filter((zone) => zone.line !== null)
    .map((zone) => zone.outerRadiusMm - LINE_MM / 2);
  if (face.innerRadiusMm !== null) radii.push(face.innerRadiusMm - LINE_MM / 2);
  return Float64Array.from(radii.sort((a, b) => a - b));
}

/**
 * Writes the network's input planes for a window of the flat face into `planes`
 * (INPUT_PLANES * side * side): colour, printed lines, image of the normal, scale. Outside the
 * picture the colour is that of its nearest pixel.
 */
export function fillPlanes(
  planes: Float32Array,
  flat: FlatFace,
  fit: FaceFit,
  shaftMm: number,
  window: Window,
): void {
  const { side, pxPerStep, leftPx, topPx } = window;
  const count = side * side;
  const face = FACES[fit.face];
  const radii = lineRadiiMm(face);
  const mmPerStep = flat.mmPerPx * pxPerStep;
  const shaftSteps = shaftMm / mmPerStep;
  const [cameraX, cameraY, cameraHeight] = cameraInSheetMm(fit);
  const spots = fit.spotCentresMm;

  // Printed lines vary slowly against a network pixel only along the ring: a table over the radius
  // (in half steps) replaces the search for the nearest line.
  const corner = spotToSheet(fit, flat.spot, flatToSpot(flat, [leftPx, topPx]));
  const reachMm = Math.hypot(side * mmPerStep, side * mmPerStep) + 2000;
  const perBin = mmPerStep / 4;
  const outer = radii[radii.length - 1]! + 4 * shaftMm;
  const bins = Math.ceil(Math.min(outer, reachMm) / perBin) + 2;
  const lineAt = new Float32Array(bins);
  for (let bin = 0; bin < bins; bin++) {
    const radius = bin * perBin;
    let nearest = Infinity;
    for (const line of radii) nearest = Math.min(nearest, Math.abs(line - radius));
    lineAt[bin] = Math.max(0, 1 - nearest / shaftMm);
  }

  const scale = Math.log2(shaftSteps / REFERENCE_SHAFT_PX);
  planes.fill(scale, 6 * count, 7 * count);

  fillColours(planes, flat.raster, window);
  for (let row = 0; row < side; row++) {
    const sheetY = corner[1] - (row + 0.5) * mmPerStep;
    const riseY = -(sheetY - cameraY) / cameraHeight;
    for (let column = 0; column < side; column++) {
      const at = row * side + column;
      const sheetX = corner[0] + (column + 0.5) * mmPerStep;
      let nearest = Infinity;
      for (let spot = 0; spot < spots.length; spot++) {
        const dx = sheetX - spots[spot]![0];
        const dy = sheetY - spots[spot]![1];
        const apart = dx * dx + dy * dy;
        if (apart < nearest) nearest = apart;
      }
      const bin = (Math.sqrt(nearest) / perBin + 0.5) | 0;
      planes[3 * count + at] = bin < bins ? lineAt[bin]! : 0;
      planes[4 * count + at] = (sheetX - cameraX) / cameraHeight;
      planes[5 * count + at] = riseY;
    }
  }
}

/** Writes the three colour planes, 0 to 1. */
function fillColours(planes: Float32Array, raster: Raster, window: Window): void {
  const { side, pxPerStep, leftPx, topPx } = window;
  const { width, height, data } = raster;
  const count = side * side;
  const samples = Math.max(1, Math.round(pxPerStep));
  const perSample = 1 / (255 * samples * samples);
  // Where every column's samples lie does not depend on the row.
  const across = sampleAxis(leftPx, pxPerStep, side, samples, width);
  const down = sampleAxis(topPx, pxPerStep, side, samples, height);
  for (let row = 0; row < side; row++) {
    const isAtRow = samples === 1 && down.part[row] === 0;
    for (let column = 0; column < side; column++) {
      if (isAtRow && across.part[column] === 0) {
        const i = (down.from[row]! * width + across.from[column]!) * 4;
        const at = row * side + column;
        planes[at] = data[i]! * perSample;
        planes[count + at] = data[i + 1]! * perSample;
        planes[2 * count + at] = data[i + 2]! * perSample;
        continue;
      }
      let red = 0;
      let green = 0;
      let blue = 0;
      for (let sy = row * samples; sy < (row + 1) * samples; sy++) {
        const top = down.from[sy]! * width;
        const bottom = down.to[sy]! * width;
        const fy = down.part[sy]!;
        for (let sx = column * samples; sx < (column + 1) * samples; sx++) {
          const left = across.from[sx]!;
          const fx = across.part[sx]!;
          const i = (top + left) * 4;
          const right = across.to[sx]!;
          const j = (top + right) * 4;
          const k = (bottom + left) * 4;
          const l = (bottom + right) * 4;
          const w11 = fx * fy;
          const w10 = fx - w11;
          const w01 = fy - w11;
          const w00 = 1 - fx - fy + w11;
          red += w00 * data[i]! + w10 * data[j]! + w01 * data[k]! + w11 * data[l]!;
          green +=
            w00 * data[i + 1]! + w10 * data[j + 1]! + w01 * data[k + 1]! + w11 * data[l + 1]!;
          blue += w00 * data[i + 2]! + w10 * data[j + 2]! + w01 * data[k + 2]! + w11 * data[l + 2]!;
        }
      }
      const at = row * side + column;
      planes[at] = red * perSample;
      planes[count + at] = green * perSample;
      planes[2 * count + at] = blue * perSample;
    }
  }
}

/** Along one axis: the two pixels that each sample lies between, and how near the second. */
interface SampleAxis {
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly part: Float64Array;
}

/** Samples along one axis; those outside the picture are brought to its rim. */
function sampleAxis(
  startPx: number,
  pxPerStep: number,
  steps: number,
  samples: number,
  length: number,
): SampleAxis {
  const from = new Int32Array(steps * samples);
  const to = new Int32Array(steps * samples);
  const part = new Float64Array(steps * samples);
  for (let i = 0; i < from.length; i++) {
    const px = startPx + ((i + 0.5) / samples) * pxPerStep - 0.5;
    const within = Math.max(0, Math.min(length - 1, px));
    from[i] = Math.floor(within);
    to[i] = Math.min(length - 1, from[i]! + 1);
    part[i] = within - from[i]!;
  }
  return { from, to, part };
}
