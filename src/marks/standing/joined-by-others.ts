import type { SeenEntry } from './entries-on-map.ts';
import type { ShaftMap } from './shaft-map.ts';
import { widthAt } from './strips.ts';

/** Stretch of a strip that shows how wide it is alone, in shafts from its entry. */
const ALONE = [1, 7] as const;
/** A strip as much wider than its arrow is more than one. */
const WIDER = 1.3;
/** It has to be wider over so many shafts on average. */
const LONG = 4;
/** Half of the widest strip that is measured, in shafts. */
const MOST_HALF = 3;

/**
 * Where a strip begins to be wider than its arrow alone, cells; null where it never is. There the shafts
 * of others join it, whose entries it may hide.
 */
export function joinedByOthers(map: ShaftMap, entry: SeenEntry): [x: number, y: number] | null {
  const { shaft } = map;
  const step = Math.max(1, shaft / 2);
  const relative = (d: number): number =>
    widthAcross(map, entry, d) / widthAt(shaft, entry.taper, d);
  const alone: number[] = [];
  for (let d = ALONE[0] * shaft; d <= ALONE[1] * shaft; d += step) alone.push(relative(d));
  alone.sort((a, b) => a - b);
  const own = alone[alone.length >> 1]!;
  if (own === 0) return null;
  const places: number[] = [];
  for (let d = ALONE[0] * shaft; d <= entry.length; d += step) places.push(d);
  const wide = places.map(relative);
  const many = Math.ceil((LONG * shaft) / step);
  for (let k = 0; k + many <= wide.length; k++) {
    const mean = wide.slice(k, k + many).reduce((sum, one) => sum + one, 0) / many;
    if (mean < WIDER * own) continue;
    const since = places[k]!;
    return [entry.x + since * Math.cos(entry.angle), entry.y + since * Math.sin(entry.angle)];
  }
  return null;
}

/** Width of what covers the face about a place on a strip, cells. */
function widthAcross(map: ShaftMap, entry: SeenEntry, d: number): number {
  const { width, height, covered, shaft } = map;
  const ux = Math.cos(entry.angle);
  const uy = Math.sin(entry.angle);
  const isCovered = (t: number): boolean => {
    const i = Math.floor(entry.x + d * ux - t * uy);
    const j = Math.floor(entry.y + d * uy + t * ux);
    return i >= 0 && j >= 0 && i < width && j < height && covered[j * width + i]! > 0.5;
  };
  const reach = (way: 1 | -1): number => {
    let t = 0;
    while (t < MOST_HALF * shaft && isCovered(way * t)) t += 0.5;
    return t;
  };
  return reach(1) + reach(-1);
}
