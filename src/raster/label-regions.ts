import type { OpenCv } from './load-open-cv.ts';
import { withMats } from './with-mats.ts';

export interface Region {
  readonly areaPx: number;
  /** Mean position, centre of the first pixel (0.5, 0.5). */
  readonly centrePx: readonly [number, number];
  /** The region's pixel farthest from its border, and how far that is. */
  readonly deepestPx: readonly [number, number];
  readonly depthPx: number;
}

/**
 * Connected regions of a mask (bytes, non-zero is in), after gaps of up to twice `closePx` are
 * closed and then, where asked for, bridges of up to twice `openPx` cut; those that hold the largest disc
 * first.
 */
export function labelRegions(
  cv: OpenCv,
  mask: { width: number; height: number; data: Uint8Array },
  options: { closePx: number; openPx?: number; minAreaPx: number; most: number },
): Region[] {
  return withMats(cv, (keep) => {
    const source = keep(new cv.Mat(mask.height, mask.width, cv.CV_8U));
    source.data.set(mask.data);
    const closed = keep(new cv.Mat());
    const square = (px: number) => {
      const side = 2 * Math.round(px) + 1;
      const size = new cv.Size(side, side);
      const anchor = new cv.Point(-1, -1);
      return keep(cv.getStructuringElement(cv.MORPH_RECT as number, size, anchor));
    };
    cv.morphologyEx(source, closed, cv.MORPH_CLOSE, square(options.closePx));
    if (options.openPx) cv.morphologyEx(closed, closed, cv.MORPH_OPEN, square(options.openPx));
    const labels = keep(new cv.Mat());
    const count = cv.connectedComponents(closed, labels, 8, cv.CV_32S as number);
    const depth = keep(new cv.Mat());
    cv.distanceTransform(closed, depth, cv.DIST_L2 as number, 3);
    const sums: RegionSums = {
      area: new Uint32Array(count),
      x: new Float64Array(count),
      y: new Float64Array(count),
      deepest: new Float32Array(count),
      deepestAt: new Int32Array(count),
    };
    const labelOf = labels.data32S;
    const depthOf = depth.data32F;
    for (let y = 0; y < mask.height; y++) addRow(labelOf, depthOf, y, mask.width, sums);
    const regions: Region[] = [];
    for (let label = 1; label < count; label++) {
      const areaPx = sums.area[label]!;
      if (areaPx < options.minAreaPx) continue;
      const at = sums.deepestAt[label]!;
      regions.push({
        areaPx,
        centrePx: [sums.x[label]! / areaPx + 0.5, sums.y[label]! / areaPx + 0.5],
        deepestPx: [(at % mask.width) + 0.5, Math.floor(at / mask.width) + 0.5],
        depthPx: sums.deepest[label]!,
      });
    }
    return regions.sort((a, b) => b.depthPx - a.depthPx).slice(0, options.most);
  });
}

/** What regions sum up to, by their labels. */
interface RegionSums {
  readonly area: Uint32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly deepest: Float32Array;
  readonly deepestAt: Int32Array;
}

/** Adds a row of pixels; a function of its own, which is compiled well once for all rows. */
function addRow(
  labels: Int32Array,
  depths: Float32Array,
  y: number,
  width: number,
  sums: RegionSums,
): void {
  const { area, x: sumX, y: sumY, deepest, deepestAt } = sums;
  const from = y * width;
  for (let x = 0, i = from; x < width; x++, i++) {
    const label = labels[i]!;
    if (label === 0) continue;
    area[label]!++;
    sumX[label]! += x;
    sumY[label]! += y;
    if (depths[i]! > deepest[label]!) {
      deepest[label] = depths[i]!;
      deepestAt[label] = i;
    }
  }
}
