import type { SpotView } from '../flat-view/spot-view.ts';
import { betweenFlat } from '../flat-view/between-flat.ts';
import type { SeenEntry } from './entries-on-map.ts';
import type { ShaftMap } from './shaft-map.ts';

/** Width of a strip as the photo shows it, where both of its edges are seen. */
export interface SeenWidth {
  /** At the start of the strip, mm on the face; what blurs the photo taken off. */
  readonly mm: number;
  readonly weight: number;
}

/** Stretch of a strip over which its width is measured, in shafts from its start. */
const FROM = 0.7;
const TO = 8;
/** Half of the widest shaft that is looked for, in shafts. */
const MOST_HALF = 2.5;
/** Weakest misfit on the middle line that has edges. */
const LEAST_MISFIT = 18;
/** Part of the largest misfit across a shaft at its edges: shafts are rounded and so is their light. */
const EDGE = 0.35;
/** Widths are seen at so many places at least. */
const LEAST_PLACES = 4;
/** Width that the photo's blur adds in squares, flat pixels. */
const BLUR_PX = 1;
/** Strips that count for the common width explain at least so much, and fully so much. */
const LEAST_GAIN = 6;
const FULL_GAIN = 12;
/** Along a strip others join the first: so much of it shows one arrow alone. */
const ALONE = 0.5;

/**
 * Width of a strip at its start, from the misfit's edges to both sides; null where none are seen.
 * @param taper what the camera makes of it
 */
export function seenWidth(
  view: SpotView,
  map: ShaftMap,
  strip: SeenEntry,
  taper: number,
): SeenWidth | null {
  if (strip.gain < LEAST_GAIN) return null;
  const { odd, side } = view.misfit;
  const toPx = map.pxPerCell;
  const shaft = map.shaft * toPx;
  const at = betweenFlat(odd, side);
  const ux = Math.cos(strip.angle);
  const uy = Math.sin(strip.angle);
  const widths: number[] = [];
  const step = Math.max(1, shaft / 3);
  const end = Math.min(strip.length * toPx, TO * shaft);
  for (let d = FROM * shaft; d <= end; d += step) {
    const across = (t: number): number =>
      at(strip.x * toPx + d * ux - t * uy, strip.y * toPx + d * uy + t * ux);
    let peak = 0;
    let middle = 0;
    for (let t = -0.4 * shaft; t <= 0.4 * shaft; t += 0.5) {
      const here = across(t);
      if (here > peak) [peak, middle] = [here, t];
    }
    if (peak < LEAST_MISFIT) continue;
    const edge = (way: 1 | -1): number | null => {
      let before = peak;
      for (let t = 0.5; t <= MOST_HALF * shaft; t += 0.5) {
        const here = across(middle + way * t);
        if (here < EDGE * peak) return t - 0.5 + (0.5 * (before - EDGE * peak)) / (before - here);
        before = here;
      }
      return null;
    };
    const left = edge(-1);
    const right = edge(1);
    if (left === null || right === null) continue;
    const wide = Math.sqrt(Math.max(0, (left + right) ** 2 - BLUR_PX ** 2));
    widths.push((wide * shaft) / (shaft + taper * d));
  }
  if (widths.length < LEAST_PLACES) return null;
  widths.sort((a, b) => a - b);
  return {
    mm: widths[Math.floor(ALONE * widths.length)]! * view.flat.mmPerPx,
    weight: Math.min(1, strip.gain / FULL_GAIN),
  };
}

/** Widths that differ by no more than this (logarithm) are the same: blur, shading, others beside. */
const SAME_WIDTH = 0.2;
/** Part of all strips that has to agree on a width before it speaks against the one told. */
const MAJORITY = 0.5;
/** So many that agree on a narrower one, and so large a part of all, are enough. */
const ENOUGH = 3;
const NARROWER = 0.4;

/**
 * Width that the arrows of an end have in common where it cannot be the one told, mm: most strips agree
 * on it, and hardly one has the width told. Null otherwise: arrows that cover one another look like wider
 * or narrower ones.
 */
export function otherWidth(widths: readonly SeenWidth[], toldMm: number): number | null {
  const seen = widths.filter(({ mm }) => mm > 0);
  const total = seen.reduce((sum, { weight }) => sum + weight, 0);
  const agree = (wanted: number): number =>
    seen
      .filter(({ mm }) => Math.abs(Math.log(mm / wanted)) <= SAME_WIDTH)
      .reduce((sum, { weight }) => sum + weight, 0);
  let common: SeenWidth | null = null;
  for (const one of seen) if (!common || agree(one.mm) > agree(common.mm)) common = one;
  if (!common || Math.abs(Math.log(common.mm / toldMm)) <= 1.5 * SAME_WIDTH) return null;
  const share = agree(common.mm) / total;
  // Nothing makes several arrows look alike and too narrow; side by side they look too wide.
  if (common.mm < toldMm && agree(common.mm) >= ENOUGH && share > NARROWER) return common.mm;
  return share > MAJORITY && agree(toldMm) < agree(common.mm) / 2 ? common.mm : null;
}
