import { spotToFlat } from '../../fit/flatten.ts';
import type { EvidenceMaps } from '../network/evidence-maps.ts';
import type { RearView } from './rear-view.ts';
import type { StandingArrow } from './standing-arrows.ts';

/** Vanes stand out from the axis so far, in shafts. Common practice, no published source. */
const OUT = [1.0, 1.4, 1.8] as const;
/** Height, mm, of the shortest vanes in use, seen from the side. Common practice. */
const VANE_MM = 35;
/** From the nock's end forward over the vanes, mm of shaft. Common practice. */
const REAR_MM = 130;
/** Probability from which something is taken to be a part of an arrow. */
const PART = 0.4;
/** Wraps, glints and arrows in front break an arrow up over less than this height, mm. */
const GAP_MM = 90;

/**
 * How much the rear end of each arrow looks fletched, by the network's map of vanes on a rear view:
 * the best mean over a vane's length of what stands out beside the shaft. What is nearer to another
 * arrow's axis counts for that one.
 *
 * @returns 0 to 1 for each arrow; null where its rear end is not in the picture.
 */
export function vanesAtRear(
  view: RearView,
  maps: EvidenceMaps,
  arrows: readonly StandingArrow[],
): (number | null)[] {
  const { flat, stretches, rearShaftMm } = view;
  const shaftPx = rearShaftMm / flat.mmPerPx;
  const axes = arrows.map(({ mm, along }) => {
    const [x, y] = spotToFlat(flat, mm);
    return { x, y, alongX: along[0], alongY: -along[1] };
  });
  const side = flat.raster.width;
  const isSeen = (x: number, y: number): boolean =>
    x >= 0 &&
    y >= 0 &&
    x < side &&
    y < side &&
    flat.seen[Math.floor(y) * side + Math.floor(x)] === 1;
  const read = (map: Float32Array, x: number, y: number): number =>
    isSeen(x, y)
      ? map[Math.floor(y / maps.pxPerCell) * maps.width + Math.floor(x / maps.pxPerCell)]!
      : 0;

  /** Distance of a place from an arrow's axis, px; infinite beside its rear stretch. */
  const fromAxis = (i: number, x: number, y: number): number => {
    const axis = axes[i]!;
    const dx = x - axis.x;
    const dy = y - axis.y;
    const ahead = (dx * axis.alongX + dy * axis.alongY) * flat.mmPerPx;
    const { fromMm, toMm } = stretches[i]!;
    if (ahead < fromMm - rearShaftMm || ahead > toMm) return Infinity;
    return Math.abs(dx * axis.alongY - dy * axis.alongX);
  };

  return arrows.map((_, i) => {
    const axis = axes[i]!;
    const { fromMm, toMm, leavesPhoto, distanceOf, heightAt } = stretches[i]!;
    const at = (d: number, off: number): [number, number] => [
      axis.x + (d / flat.mmPerPx) * axis.alongX - off * axis.alongY,
      axis.y + (d / flat.mmPerPx) * axis.alongY + off * axis.alongX,
    ];
    // Arrows droop: the rear end may lie a little off the line.
    const sway = [-0.8, -0.4, 0, 0.4, 0.8].map((t) => t * shaftPx);
    const isPart = (d: number): boolean =>
      sway.some((off) => {
        const place = at(d, off);
        const part = (map: Float32Array) => read(map, ...place) > PART;
        return part(maps.shaft) || part(maps.vane) || part(maps.nock);
      });
    const standsOut = (d: number): number => {
      let most = 0;
      for (const out of OUT) {
        for (const sign of [-1, 1]) {
          const off = sign * out * shaftPx;
          const place = at(d, off);
          const others = arrows.some((__, j) => j !== i && fromAxis(j, ...place) < Math.abs(off));
          if (!others) most = Math.max(most, read(maps.vane, ...place));
        }
      }
      return most;
    };
    let end = fromMm;
    for (let d = fromMm; d <= toMm && heightAt(d) - heightAt(end) < GAP_MM; d += flat.mmPerPx) {
      if (isPart(d)) end = d;
    }
    const runsOut = leavesPhoto && toMm - end < 2 * rearShaftMm;
    const endMm = heightAt(end);
    const start = runsOut ? fromMm : Math.max(0, distanceOf(endMm - REAR_MM));
    const strengths: number[] = [];
    for (let d = start; d <= end; d += flat.mmPerPx) strengths.push(standsOut(d));
    const window = Math.max(
      1,
      Math.round((distanceOf(endMm) - distanceOf(endMm - VANE_MM)) / flat.mmPerPx),
    );
    const best = bestMean(strengths, window);
    return runsOut && best < PART ? null : best;
  });
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
