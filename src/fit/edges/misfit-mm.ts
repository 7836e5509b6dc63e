import type { CameraSolution } from '../camera/solve-camera.ts';
import type { RingEdges } from './ring-edges.ts';

/** Places so far apart, px, share neither blur nor a block of JPEG's coarser colours. */
const APART_PX = 16;
/** Farthest on a ring, rad: what is farther away is not in the same fold of the paper. */
const FARTHEST_RAD = 0.35;

/**
 * What neighbouring places on a ring share of their distances from it, root mean square in mm: noise is
 * each place's own, bent paper is common to neighbours. 0 where no more than noise is seen.
 */
export function misfitMm(
  { points, profiles }: Pick<RingEdges, 'points' | 'profiles'>,
  { residualPx, weight }: Pick<CameraSolution, 'residualPx' | 'weight'>,
): number {
  let shared = 0;
  let weights = 0;
  const offMm = (i: number): number => residualPx[i]! / profiles[i]!.pxPerMm;
  points.forEach(({ spot, ring, px, angle }, i) => {
    for (let j = i + 1; j < points.length; j++) {
      const other = points[j]!;
      if (other.spot !== spot || other.ring !== ring) break;
      if (Math.abs(other.angle - angle) > FARTHEST_RAD) break;
      if (Math.hypot(other.px[0] - px[0], other.px[1] - px[1]) < APART_PX) continue;
      const both = weight[i]! * weight[j]!;
      shared += both * offMm(i) * offMm(j);
      weights += both;
      break;
    }
  });
  return weights > 0 ? Math.sqrt(Math.max(0, shared / weights)) : 0;
}
