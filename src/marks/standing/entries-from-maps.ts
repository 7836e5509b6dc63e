import type { SpotView } from '../flat-view/spot-view.ts';
import { peaksOf } from '../network/peaks-of.ts';
import type { EvidenceMaps } from '../network/evidence-maps.ts';
import type { Bar, BarScan } from './bar-scan.ts';
import { entriesFromBars } from './entries-from-bars.ts';
import { refineEntry, type RefinedEntry } from './refine-entry.ts';
import { strongestApart } from './strongest-apart.ts';

/** Weakest heat of an entry that is looked at. */
const LEAST_HEAT = 0.06;
/** Heat at which the entry map speaks neither for nor against an arrow. */
const NEUTRAL_HEAT = 0.2;
/** Log-odds per unfolding of the heat. */
const HEAT_WEIGHT = 3;
/** One sigma of the heat's peak along the shaft, in shafts. */
const PEAK_SD = 0.1;

/** Log-odds against a bar that comes out from behind a vane. */
const BEHIND_VANE = 4;

/** One sigma of the end of a bar along the shaft, in shafts. */
const END_SD = 0.25;

/**
 * Entries where the network's map of them has a peak and its map of shafts a bar that leads away
 * in a direction in which arrows may stand; the likeliest first. Ends of bars
 * without a peak count too, for less, and for less again where a vane hides what is before. The shaft's own edges place the
 * entry across the shaft, the peak along it: shadows and rims blur the end of the bar.
 *
 * @param bars The map of shafts on flat pixels.
 */
export function entriesFromMaps(
  view: SpotView,
  bars: Float32Array,
  scan: BarScan,
  maps: EvidenceMaps,
): (Bar & RefinedEntry & { readonly heat: number })[] {
  const entries = peaksOf(maps.entry, maps, LEAST_HEAT).flatMap((peak) => {
    const [x, y] = peak.px;
    const best = scan.likeliest(x, y);
    if (best.bar < 0.2) return [];
    const edges = refineEntry(view, bars, best);
    // Back along the axis to where the peak is.
    const past = (edges.x - x) * edges.alongX + (edges.y - y) * edges.alongY;
    const placed = { ...edges, x: edges.x - past * edges.alongX, y: edges.y - past * edges.alongY };
    const moved = Math.hypot(placed.x - x, placed.y - y) / scan.shaftPx;
    const trusted = moved < 0.6;
    const at = trusted ? placed : { ...placed, x, y, alongX: best.alongX, alongY: best.alongY };
    const final = scan.look(at.x, at.y, Math.atan2(at.alongY, at.alongX), 'straight');
    return [
      {
        ...final,
        ...at,
        acrossSd: trusted ? edges.acrossSd : 0.25,
        alongSd: PEAK_SD,
        ...weighed(maps, { ...at, score: final.score }, peak.height, scan.shaftPx),
      },
    ];
  });
  const ends = entriesFromBars(view, bars, scan)
    .map((end) => {
      const heat = largestAround(maps, maps.entry, end.x, end.y);
      return {
        ...end,
        alongSd: Math.max(END_SD, end.alongSd),
        ...weighed(maps, end, heat, scan.shaftPx),
      };
    })
    .filter((end) =>
      entries.every(
        (entry) =>
          entry.score < end.score - 3 ||
          Math.hypot(entry.x - end.x, entry.y - end.y) > 1.5 * scan.shaftPx,
      ),
    );
  return strongestApart([...entries, ...ends], { px: 0.9 * scan.shaftPx, turn: Math.PI });
}

/**
 * Heat and score of a place where a bar starts. Where a shaft comes out from behind a vane it looks
 * as if it entered there: what the vane hides is no heat.
 */
function weighed(
  maps: EvidenceMaps,
  start: Pick<Bar, 'x' | 'y' | 'alongX' | 'alongY' | 'score'>,
  heat: number,
  shaftPx: number,
): { heat: number; score: number } {
  const vane = Math.max(
    ...[0, 0.7, 1.4].map((back) =>
      largestAround(
        maps,
        maps.vane,
        start.x - back * shaftPx * start.alongX,
        start.y - back * shaftPx * start.alongY,
      ),
    ),
  );
  const own = heat * (1 - vane);
  return { heat: own, score: start.score + heatScore(own) - BEHIND_VANE * vane };
}

function heatScore(heat: number): number {
  return HEAT_WEIGHT * Math.log(Math.max(LEAST_HEAT, heat) / NEUTRAL_HEAT);
}

/** Largest value of a map within two cells. */
function largestAround(maps: EvidenceMaps, map: Float32Array, x: number, y: number): number {
  const column = Math.floor(x / maps.pxPerCell);
  const row = Math.floor(y / maps.pxPerCell);
  let largest = 0;
  for (let dy = -2; dy <= 2; dy++) {
    for (let dx = -2; dx <= 2; dx++) {
      largest = Math.max(largest, map[(row + dy) * maps.width + column + dx] ?? 0);
    }
  }
  return largest;
}
