import { flatToSpot, spotToFlat } from '../../fit/flatten.ts';
import type { SpotView } from '../hand-made/spot-view.ts';
import type { EvidenceMaps } from '../network/evidence-maps.ts';
import { nocksOf, type RearAxis } from './nocks-of.ts';
import type { RearView } from './rear-view.ts';
import type { StandingArrow } from './standing-arrows.ts';

/** Vanes stand out from the axis so far, in shafts. Common practice, no published source. */
const OUT = [1.0, 1.4, 1.8] as const;
/** Out here there are vanes no more: what is taken for one is a part of the background. */
const BEYOND = [3.2, 4] as const;
/** From the nock's end, mm of shaft, between which vanes sit. Common practice. */
const VANES_FROM_NOCK_MM = { from: 15, to: 120 } as const;
/** Length, mm, of the shortest vanes in use, seen from the side. Common practice. */
const VANE_MM = 35;
/** Weight of the map where the print is known: what departs from it says more, of small vanes. */
const MAP_SHARE = 0.25;
/** Colour distance from what a shadow could make of the print that is surely something else. */
const ODD = 40;
/** Probability from which a place is taken for a part of a shaft or nock. */
const PART = 0.3;

/**
 * How much the rear end of each arrow looks fletched: the best mean over a vane's length of what
 * stands out beside the shaft before its nock. The network's map of vanes says so, and on the face
 * what departs from the print must say so too. What is nearer to another arrow's axis counts for
 * that one.
 *
 * @param face The view of the same spot.
 * @returns 0 to 1 for each arrow; null where its rear end is not seen.
 */
export function vanesAtRear(
  view: RearView,
  maps: EvidenceMaps,
  arrows: readonly StandingArrow[],
  face: SpotView,
): (number | null)[] {
  const { flat, rearShaftMm } = view;
  const shaftPx = rearShaftMm / flat.mmPerPx;
  const axes = nocksOf(view, maps, arrows).map(
    (axis) => axis && { ...axis, zone: vaneZonePx(axis, flat.mmPerPx) },
  );
  const side = flat.raster.width;
  const read = (map: Float32Array, x: number, y: number): number =>
    x >= 0 && y >= 0 && x < side && y < side
      ? map[Math.floor(y / maps.pxPerCell) * maps.width + Math.floor(x / maps.pxPerCell)]!
      : 0;

  /** How much a place departs from the print, 0 to 1; null off the face. */
  const oddAt = (x: number, y: number): number | null => {
    const [u, v] = spotToFlat(face.flat, flatToSpot(flat, [x, y]));
    const { side: width, unshadedAt, level } = face.misfit;
    if (u < 0 || v < 0 || u >= width || v >= width) return null;
    const [column, row] = [Math.floor(u), Math.floor(v)];
    return level[row * width + column] === 0 ? null : Math.min(1, unshadedAt(column, row) / ODD);
  };
  const vaneAt = (x: number, y: number): number => {
    if (Math.max(read(maps.shaft, x, y), read(maps.nock, x, y)) > PART) return 0;
    const vane = read(maps.vane, x, y);
    const odd = oddAt(x, y);
    return odd === null ? vane : vane ** MAP_SHARE * odd ** (1 - MAP_SHARE);
  };
  const isNearerTo = (
    other: (typeof axes)[number],
    [x, y]: readonly [number, number],
    off: number,
  ): boolean => {
    if (!other) return false;
    const dx = x - other.x;
    const dy = y - other.y;
    const ahead = dx * other.alongX + dy * other.alongY;
    const beside = Math.abs(dx * other.alongY - dy * other.alongX);
    return ahead > other.zone.from && ahead < other.zone.to && beside < off;
  };

  return axes.map((axis, i) => {
    if (!axis) return null;
    const { from, to } = axis.zone;
    const beside = (d: number, off: number): [number, number] => [
      axis.x + d * axis.alongX - off * axis.alongY,
      axis.y + d * axis.alongY + off * axis.alongX,
    ];
    const strengths: number[] = [];
    for (let d = from; d <= to; d++) {
      let most = 0;
      let background = Infinity;
      for (const sign of [-1, 1]) {
        for (const out of OUT) {
          const off = out * shaftPx;
          const place = beside(d, sign * off);
          if (axes.some((other, j) => j !== i && isNearerTo(other, place, off))) continue;
          most = Math.max(most, vaneAt(...place));
        }
        const outer = BEYOND.map((out) => vaneAt(...beside(d, sign * out * shaftPx)));
        background = Math.min(background, ...outer);
      }
      strengths.push(Math.max(0, most - background));
    }
    const window = (VANE_MM / (VANES_FROM_NOCK_MM.to - VANES_FROM_NOCK_MM.from)) * (to - from);
    return bestMean(strengths, Math.max(1, Math.round(window)));
  });
}

/** Stretch of an arrow's image where its vanes are, px from its entry. */
function vaneZonePx(axis: RearAxis, mmPerPx: number): { from: number; to: number } {
  const { distanceOf, nockHeightMm } = axis;
  return {
    from: Math.max(0, distanceOf(nockHeightMm - VANES_FROM_NOCK_MM.to) / mmPerPx),
    to: Math.max(0, distanceOf(nockHeightMm - VANES_FROM_NOCK_MM.from) / mmPerPx),
  };
}

/** Largest mean over so many values in a row; over all of them when there are fewer. */
function bestMean(values: readonly number[], window: number): number {
  const width = Math.min(window, values.length);
  let best = 0;
  for (let k = 0; k + width <= values.length && width > 0; k++) {
    let sum = 0;
    for (let n = k; n < k + width; n++) sum += values[n]!;
    best = Math.max(best, sum / width);
  }
  return best;
}
