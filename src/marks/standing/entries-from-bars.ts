import type { SpotView } from '../flat-view/spot-view.ts';
import { angleOf, DIRECTIONS, type Bar, type BarScan } from './bar-scan.ts';
import { refineEntry, type RefinedEntry } from './refine-entry.ts';
import { strongestApart } from './strongest-apart.ts';

/** Candidates that get a close look. */
const MOST_REFINED = 60;
/** Bars weaker than this over their surroundings are not followed. */
const LEAST_BAR = 0.35;

/**
 * Ends of straight bars about as wide as a shaft, in directions in which arrows may stand, without
 * a trained network; the likeliest first.
 */
export function entriesFromBars(
  view: SpotView,
  bars: Float32Array,
  scan: BarScan,
): (Bar & RefinedEntry)[] {
  const { side, shaftPx, value, strength, mayPoint, look } = scan;
  const ahead = Array.from({ length: DIRECTIONS }, (_, direction) => {
    const angle = angleOf(direction);
    return [2 * shaftPx * Math.cos(angle), 2 * shaftPx * Math.sin(angle)] as const;
  });
  const found: Bar[] = [];
  for (let y = 2.5; y < side - 2; y += 2) {
    for (let x = 2.5; x < side - 2; x += 2) {
      if (bars[Math.floor(y) * side + Math.floor(x)]! < 0.5 || value(x, y) < 0.5) continue;
      let best: { direction: number; bar: number } | null = null;
      for (let direction = 0; direction < DIRECTIONS; direction++) {
        const [dx, dy] = ahead[direction]!;
        if (value(x + dx, y + dy) < 0.3 || !mayPoint(x, y, direction)) continue;
        const bar = strength(x, y, direction);
        if (bar > (best?.bar ?? LEAST_BAR)) best = { direction, bar };
      }
      if (best) found.push(look(x, y, angleOf(best.direction), 'fan'));
    }
  }
  const coarse = strongestApart(found, { px: 1.2 * shaftPx, turn: 0.5 }).slice(0, MOST_REFINED);
  const refined = coarse.map((start) => {
    const entry = refineEntry(view, bars, start);
    return {
      ...look(entry.x, entry.y, Math.atan2(entry.alongY, entry.alongX), 'straight'),
      ...entry,
    };
  });
  return strongestApart(refined, { px: 1.1 * shaftPx, turn: Math.PI });
}
