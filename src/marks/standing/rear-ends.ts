import type { SpotMm } from '../../face/coordinates.ts';
import type { RearNetwork } from '../network/rear-network.ts';
import type { RearView } from './rear-view.ts';
import type { StandingArrow } from './standing-arrows.ts';
import { stripAlong } from './strip-along.ts';

/** The rear end of an arrow as it is seen. */
export interface RearEnd {
  /** Where the shaft ends in the picture, on the continued plane of the face. */
  readonly mm: SpotMm;
  /** Probability of having vanes. */
  readonly fletched: number;
}

/** Weakest end that is looked at. */
const LEAST_END = 0.4;
/** Ends nearer to one another than this, in shafts there, are the same. */
const SAME_SHAFTS = 1.5;
/** Log-odds of an end at either limit of the stretch against one at its likeliest place. */
const OFF_LIKELY = 2;

/**
 * The rear end of each arrow, as the network sees it along the arrow's image; each end belongs to one
 * arrow, the clearest pairs first.
 *
 * @returns For each arrow its rear end, null where none is seen.
 */
export async function rearEnds(
  view: RearView,
  network: RearNetwork,
  arrows: readonly StandingArrow[],
): Promise<(RearEnd | null)[]> {
  const { rearShaftMm, stretches } = view;
  const pairs: { readonly i: number; readonly end: RearEnd; readonly merit: number }[] = [];
  for (const [i, arrow] of arrows.entries()) {
    const stretch = stretches[i]!;
    const strip = stripAlong(view, arrow, stretch);
    const { end, fletched } = await network.read(strip);
    for (const step of peaks(end)) {
      const ahead = strip.distanceMm(step);
      if (ahead > stretch.toMm) continue;
      const off = (ahead - stretch.likelyMm) / Math.max(rearShaftMm, stretch.toMm - stretch.fromMm);
      const mm = [
        arrow.mm[0] + ahead * arrow.along[0],
        arrow.mm[1] + ahead * arrow.along[1],
      ] as const;
      pairs.push({
        i,
        end: { mm, fletched: fletched[step]! },
        merit: Math.log(end[step]!) - OFF_LIKELY * off ** 2,
      });
    }
  }
  pairs.sort((a, b) => b.merit - a.merit);
  const ends = arrows.map((): RearEnd | null => null);
  for (const { i, end } of pairs) {
    if (!ends[i] && !ends.some((other) => other && isSame(other, end, rearShaftMm))) ends[i] = end;
  }
  return ends;
}

/** Steps at which ends are likeliest. */
function peaks(end: Float32Array): number[] {
  const found: number[] = [];
  end.forEach((p, step) => {
    const before = end[step - 1] ?? 0;
    const after = end[step + 1] ?? 0;
    if (p >= LEAST_END && p >= before && p > after) found.push(step);
  });
  return found;
}

function isSame(a: RearEnd, b: RearEnd, rearShaftMm: number): boolean {
  return Math.hypot(a.mm[0] - b.mm[0], a.mm[1] - b.mm[1]) < SAME_SHAFTS * rearShaftMm;
}
