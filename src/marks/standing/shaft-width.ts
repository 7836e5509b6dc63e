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

/** How often people say the diameter of the shafts that stand there, and how exactly then (logarithm). */
const TOLD = { part: 0.7, sd: 0.12 } as const;
/** The same where nobody said: people shoot shafts of 4 to 9 mm (common practice, no published source). */
const UNTOLD = { part: 0.7, sd: 0.35 } as const;
/** Otherwise it is anything within a factor of so much. */
const MOST_FACTOR = 3.5;
/** How a strip's width is seen (logarithm): as it is, wider where shafts lie side by side, or not at all. */
const SEEN = { alone: 0.5, sd: 0.16, sideBySide: 0.3, wider: 0.6 } as const;
/** Steps of widths that are tried, and modes that are told apart, as logarithms. */
const STEP = 0.05;
const APART = 0.3;
/** So near (logarithm) it is what was told: strips do not show widths more exactly than people know them. */
const AS_TOLD = 0.2;
/** Modes less likely than the best by more than this (logarithm) are left out. */
const UNLIKELY = 5;
/** Most widths that are worth a look each. */
const MOST_WIDTHS = 3;

export interface LikelyWidth {
  readonly mm: number;
  /** Against the likeliest. */
  readonly logOdds: number;
}

/**
 * Widths that the arrows of an end may have in common, the likeliest first: by what was told, and by
 * what the strips look like, of which some are several arrows side by side, and some are none.
 *
 * @param isTold Whether somebody said this width, or it is a usual one.
 */
export function likelyWidths(
  widths: readonly SeenWidth[],
  toldMm: number,
  isTold: boolean,
): LikelyWidth[] {
  const belief = isTold ? TOLD : UNTOLD;
  const flat = 1 / (2 * Math.log(MOST_FACTOR));
  const normal = (x: number, sd: number): number =>
    Math.exp(-0.5 * (x / sd) ** 2) / (sd * Math.sqrt(2 * Math.PI));
  const seen = widths.filter(({ mm }) => mm > 0);
  const logPosterior = (width: number): number =>
    Math.log(belief.part * normal(width, belief.sd) + (1 - belief.part) * flat) +
    seen.reduce((sum, { mm, weight }) => {
      const more = Math.log(mm / toldMm) - width;
      const beside = more > 0 ? Math.exp(-more / SEEN.wider) / SEEN.wider : 0;
      const stray = (1 - SEEN.alone - SEEN.sideBySide) * flat;
      return (
        sum +
        weight * Math.log(SEEN.alone * normal(more, SEEN.sd) + SEEN.sideBySide * beside + stray)
      );
    }, 0);
  const steps = Math.round(Math.log(MOST_FACTOR) / STEP);
  const tried = Array.from({ length: 2 * steps + 1 }, (_, i) => (i - steps) * STEP)
    .map((width) => ({ width, value: logPosterior(width) }))
    .sort((a, b) => b.value - a.value);
  const modes: typeof tried = [];
  for (const one of tried) {
    if (one.value < tried[0]!.value - UNLIKELY || modes.length === MOST_WIDTHS) break;
    if (modes.every(({ width }) => Math.abs(width - one.width) >= APART)) modes.push(one);
  }
  const likely = modes.map(({ width, value }) => ({
    mm: Math.abs(width) <= AS_TOLD ? toldMm : toldMm * Math.exp(width),
    logOdds: value - modes[0]!.value,
  }));
  // Two of them may be about what was told.
  return likely.filter(({ mm }, i) => likely.findIndex((other) => other.mm === mm) === i);
}
