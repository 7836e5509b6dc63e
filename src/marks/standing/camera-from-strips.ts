import type { SheetMm } from '../../face/coordinates.ts';
import { LEAN_SD, type ArrowGeometry } from './arrow-geometry.ts';

/** A strip of a shaft map on the sheet; which of its ends is the entry is not known. */
export interface SeenLine {
  readonly ends: readonly [SheetMm, SheetMm];
  /** For each end, the log-odds of an arrow entering there by what is seen of the end alone. */
  readonly entryOdds: readonly [number, number];
  /** How much the line counts, 0 to 1. */
  readonly weight: number;
}

/** Where the camera was, by the rings and by the shafts together. */
export interface SeenFrom {
  readonly geometry: ArrowGeometry;
  /** One-sigma uncertainty of the slope of an unleaning arrow's image, per axis. */
  readonly slopeSd: number;
}

/** Part of all lines that are no arrows at all, or lean in ways of their own. */
const STRAY = 0.12;
const LOG_STRAY = Math.log(STRAY);
/** One sigma of the fitted slope at the face's centre: at least, and for each of its own size. */
const SLOPE_SD = { least: 0.12, share: 0.2 } as const;
/** Part of fits whose camera is wrong altogether, on the wrong side even, and the spread of slopes then. */
const WRONG_FIT = { part: 0.15, sd: 0.8 } as const;
/** One sigma of the logarithm of the camera's height over the sheet. */
const HEIGHT_SD = 0.35;
/** Slopes tried at the face's centre, up to views of about 70 degrees, and heights as shares. */
const MOST_SLOPE = 2.8;
const HEIGHTS = [0.5, 0.7, 1, 1.4, 2];
const COARSE = 0.1;
const FINE = 0.025;

/**
 * All shafts point away from the foot of the camera on the sheet, up to their lean, so lines tell where
 * it was: together with the fit's belief, which is weak where nobody knows the lens.
 */
export function cameraFromStrips(fitted: ArrowGeometry, lines: readonly SeenLine[]): SeenFrom {
  const { footMm, heightMm } = fitted;
  const seen = lines.map(waysRound);
  const slope = [-footMm[0] / heightMm, -footMm[1] / heightMm] as const;
  const sd = SLOPE_SD.least + SLOPE_SD.share * Math.hypot(slope[0], slope[1]);
  const prior = (x: number, y: number): number => {
    const away = ((x - slope[0]) ** 2 + (y - slope[1]) ** 2) / (2 * sd ** 2);
    const near = ((1 - WRONG_FIT.part) / sd ** 2) * Math.exp(-away);
    const wide =
      (WRONG_FIT.part / WRONG_FIT.sd ** 2) * Math.exp(-(x * x + y * y) / (2 * WRONG_FIT.sd ** 2));
    return Math.log(near + wide);
  };
  const ofLines = (x: number, y: number, height: number): number => {
    let sum = -(Math.log(height) ** 2) / (2 * HEIGHT_SD ** 2);
    for (const line of seen) {
      const here = lineDensity(line, x, y, height * heightMm);
      sum += line.weight * (here === 0 ? LOG_STRAY : Math.log(STRAY + (1 - STRAY) * here));
    }
    return sum;
  };
  let best = { x: slope[0], y: slope[1], height: 1, value: -Infinity };
  const search = (cx: number, cy: number, reach: number, step: number): void => {
    for (let x = cx - reach; x <= cx + reach + 1e-9; x += step) {
      for (let y = cy - reach; y <= cy + reach + 1e-9; y += step) {
        if (Math.sqrt(x * x + y * y) > MOST_SLOPE) continue;
        const before = prior(x, y);
        for (const height of HEIGHTS) {
          const value = before + ofLines(x, y, height);
          if (value > best.value) best = { x, y, height, value };
        }
      }
    }
  };
  search(0, 0, MOST_SLOPE, COARSE);
  search(slope[0], slope[1], 2 * COARSE, COARSE / 2);
  const { x: cx, y: cy } = best;
  // The mean over what is about as likely, and how far that spreads.
  let weight = 0;
  let sumX = 0;
  let sumY = 0;
  let sumHeight = 0;
  let squares = 0;
  for (let x = cx - 12 * FINE; x <= cx + 12 * FINE; x += FINE) {
    for (let y = cy - 12 * FINE; y <= cy + 12 * FINE; y += FINE) {
      const before = prior(x, y);
      for (const height of HEIGHTS) {
        const w = Math.exp(before + ofLines(x, y, height) - best.value);
        weight += w;
        sumX += w * x;
        sumY += w * y;
        sumHeight += w * Math.log(height);
        squares += w * (x * x + y * y);
      }
    }
  }
  const x = sumX / weight;
  const y = sumY / weight;
  const height = heightMm * Math.exp(sumHeight / weight);
  return {
    geometry: { footMm: [-x * height, -y * height], heightMm: height },
    slopeSd: Math.sqrt(Math.max(0, squares / weight - x * x - y * y) / 2),
  };
}

/** A line's two ways round, in numbers that need not be found again for each camera. */
interface WaysRound {
  readonly weight: number;
  /** Sum of both ways' priors. */
  readonly total: number;
  /** Per way: the entry's place, the unit vector from there, and its prior. */
  readonly ways: Float64Array;
}

function waysRound({ ends, entryOdds, weight }: SeenLine): WaysRound {
  const ways: number[] = [];
  let total = 0;
  for (const first of [0, 1] as const) {
    const entry = ends[first];
    const other = ends[1 - first]!;
    const long = Math.hypot(other[0] - entry[0], other[1] - entry[1]);
    const prior = Math.exp(entryOdds[first]);
    ways.push(
      entry[0],
      entry[1],
      (other[0] - entry[0]) / long,
      (other[1] - entry[1]) / long,
      prior,
    );
    total += prior;
  }
  return { weight, total, ways: Float64Array.from(ways) };
}

/** Density of a line's direction over both ways round, against one that is the same all round. */
function lineDensity(
  { ways, total }: WaysRound,
  slopeX: number,
  slopeY: number,
  heightMm: number,
): number {
  let sum = 0;
  for (let i = 0; i < ways.length; i += 5) {
    const wx = slopeX + ways[i]! / heightMm;
    const wy = slopeY + ways[i + 1]! / heightMm;
    sum += ways[i + 4]! * densityOf(wx, wy, ways[i + 2]!, ways[i + 3]!, LEAN_SD);
  }
  return sum / total;
}

/**
 * Density of the direction in which an arrow is seen, against one that is the same all round: its slope
 * is that of an unleaning one plus a lean that is normal with the same spread both ways.
 */
export function directionDensity(
  slope: readonly [number, number],
  along: readonly [number, number],
  leanSd: number,
): number {
  return densityOf(slope[0], slope[1], along[0], along[1], leanSd);
}

/** Beyond so many spreads a normal density is nothing to the bit: 2e-16 of its middle. */
const NOTHING_BEYOND = 8.5;

function densityOf(
  slopeX: number,
  slopeY: number,
  alongX: number,
  alongY: number,
  leanSd: number,
): number {
  const t = (slopeX * alongX + slopeY * alongY) / leanSd;
  const aside = (slopeX * alongY - slopeY * alongX) / leanSd;
  // Most lines point nowhere near where an arrow would: for them no exponential is needed.
  if (aside > NOTHING_BEYOND || aside < -NOTHING_BEYOND || t < -NOTHING_BEYOND) return 0;
  const ofAside = Math.exp((-aside * aside) / 2);
  const ofBoth = t > NOTHING_BEYOND ? 0 : ofAside * Math.exp((-t * t) / 2);
  // t Phi(t) / phi(t), with the exponentials taken together so that nothing overflows.
  const tail = Math.abs(t) * millsRatio(Math.abs(t)) * ofBoth;
  return ofBoth - tail + (t > 0 ? t * Math.sqrt(2 * Math.PI) * ofAside : 0);
}

/**
 * What of a standard normal distribution lies above x over its density there, x not negative
 * (Abramowitz and Stegun 26.2.17, within 8e-8 of the distribution).
 */
function millsRatio(x: number): number {
  const t = 1 / (1 + 0.2316419 * x);
  return (
    t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))))
  );
}
