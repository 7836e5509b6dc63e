import { spotToFlat } from '../../fit/flatten.ts';
import type { EvidenceMaps } from '../network/evidence-maps.ts';
import { peaksOf } from '../network/peaks-of.ts';
import type { RearView } from './rear-view.ts';
import type { StandingArrow } from './standing-arrows.ts';

/** The image of an arrow from its entry to its nock, flat pixels of a rear view. */
export interface RearAxis {
  readonly x: number;
  readonly y: number;
  /** Unit vector from the entry to the nock. */
  readonly alongX: number;
  readonly alongY: number;
  /** Height of the nock's end over the paper, mm. */
  readonly nockHeightMm: number;
  /** From the entry, mm of flat face, of a point of the arrow at this height, mm. */
  readonly distanceOf: (heightMm: number) => number;
}

/** Weakest nock that is looked at. */
const LEAST_NOCK = 0.25;
/** How far beside the axis a nock may lie: the shaft's own width, and its direction's error. */
const BESIDE = { shafts: 0.8, perPx: 0.05 } as const;
/** Half the length of a nock, mm of shaft. Common practice, no published source. */
const HALF_NOCK_MM = 8;

/**
 * The nock of each arrow: a peak of the network's map of nocks that lies where the arrow's rear end
 * may be seen; each belongs to one arrow, the clearest pairs first.
 *
 * @returns For each arrow its axis through the nock, null where none is seen.
 */
export function nocksOf(
  view: RearView,
  maps: EvidenceMaps,
  arrows: readonly StandingArrow[],
): (RearAxis | null)[] {
  const { flat, rearShaftMm, stretches } = view;
  const shaftPx = rearShaftMm / flat.mmPerPx;
  const peaks = peaksOf(maps.nock, maps, LEAST_NOCK);
  const pairs = arrows.flatMap((arrow, i) => {
    const [x, y] = spotToFlat(flat, arrow.mm);
    const { fromMm, toMm, likelyMm } = stretches[i]!;
    return peaks.flatMap(({ px, height }, nock) => {
      const [dx, dy] = [px[0] - x, px[1] - y];
      const ahead = dx * arrow.along[0] - dy * arrow.along[1];
      const beside = Math.abs(dx * arrow.along[1] + dy * arrow.along[0]);
      const reach = BESIDE.shafts * shaftPx + BESIDE.perPx * ahead;
      const aheadMm = ahead * flat.mmPerPx;
      if (aheadMm < fromMm || aheadMm > toMm || beside > reach) return [];
      const offLikely = (aheadMm - likelyMm) / Math.max(rearShaftMm, toMm - fromMm);
      const merit = Math.log(height) - 2 * (beside / reach) ** 2 - 2 * offLikely ** 2;
      return [{ i, nock, x, y, dx, dy, merit }];
    });
  });
  pairs.sort((a, b) => b.merit - a.merit);
  const axes = arrows.map((): RearAxis | null => null);
  const taken = new Set<number>();
  for (const { i, nock, x, y, dx, dy } of pairs) {
    if (axes[i] || taken.has(nock)) continue;
    taken.add(nock);
    const length = Math.max(1e-6, Math.hypot(dx, dy));
    const { distanceOf, heightAt } = stretches[i]!;
    axes[i] = {
      x,
      y,
      alongX: dx / length,
      alongY: dy / length,
      nockHeightMm: heightAt(length * flat.mmPerPx) + HALF_NOCK_MM,
      distanceOf,
    };
  }
  return axes;
}
