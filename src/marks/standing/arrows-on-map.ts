import type { SheetMm, SpotMm } from '../../face/coordinates.ts';
import {
  cameraFromStrips,
  directionDensity,
  type SeenFrom,
  type SeenLine,
} from './camera-from-strips.ts';
import { LEAN_SD, normalSlope, type ArrowGeometry } from './arrow-geometry.ts';
import { isOfCores, largestNear, type ShaftMap } from './shaft-map.ts';
import { entriesOnMap, type FoundEntry, type SeenEntry } from './entries-on-map.ts';
import { findStrips, type Strip } from './strips.ts';

/** A spot's shaft map and where it lies on the sheet. */
export interface PlacedMap {
  readonly map: ShaftMap;
  readonly toSpot: (x: number, y: number) => SpotMm;
  readonly fromSpot: (mm: SpotMm) => [number, number];
  readonly toSheet: (x: number, y: number) => SheetMm;
  /** Whether an arrow may enter at a place, cells: on the spot, and seen. */
  readonly isOnFace: (x: number, y: number) => boolean;
  /** Peaks of the heat of entries, cells. */
  readonly peaks: readonly (readonly [number, number])[];
  readonly mmPerCell: number;
}

/** Heat at which the map of entries speaks neither for nor against one. */
const NEUTRAL_HEAT = 0.15;
const LEAST_HEAT = 0.04;

/** No direction is less likely than this: leans have heavy tails. */
const LEAST_DENSITY = 1e-3;
/** Arrows are seen no more end on than this, mm of flat face per mm of height. */
const LEAST_SLOPE = 0.05;

/** Log-odds of an entry by its heat. */
export function heatOdds(heat: number): number {
  return Math.log(Math.max(LEAST_HEAT, heat) / NEUTRAL_HEAT);
}

export function seenFrom(fitted: ArrowGeometry, placed: readonly PlacedMap[]): SeenFrom {
  const lines = placed.flatMap((one) => findStrips(one.map).map((strip) => lineOf(one, strip)));
  return cameraFromStrips(fitted, lines);
}

function lineOf({ map, toSheet, isOnFace }: PlacedMap, strip: Strip): SeenLine {
  const ux = Math.cos(strip.angle);
  const uy = Math.sin(strip.angle);
  const ends = [
    [strip.x, strip.y],
    [strip.x + strip.length * ux, strip.y + strip.length * uy],
  ] as const;
  const odds = ends.map(([x, y]) => {
    if (!isOnFace(x, y)) return -4;
    const heat = map.entry ? largestNear(map, map.entry, x, y, 1.2 * map.shaft) : NEUTRAL_HEAT;
    return 2 * heatOdds(heat);
  });
  return {
    ends: [toSheet(...ends[0]), toSheet(...ends[1])],
    entryOdds: [odds[0]!, strip.runsOut ? Math.min(-2, odds[1]!) : odds[1]!],
    weight: Math.min(1, strip.gain / 15),
  };
}

/** Entries of arrows and what is seen of them, the likeliest first. */
export function arrowEntries(placed: PlacedMap, from: SeenFrom): FoundEntry[] {
  const { map, toSheet, isOnFace, peaks } = placed;
  const { geometry, slopeSd } = from;
  const leanSd = Math.hypot(LEAN_SD, slopeSd);
  return entriesOnMap(map, peaks, {
    mayEnter: isOnFace,
    direction: (x, y, angle) => {
      const slope = normalSlope(geometry, toSheet(x, y));
      const density = directionDensity(slope, [Math.cos(angle), -Math.sin(angle)], leanSd);
      return Math.log(Math.max(LEAST_DENSITY, density));
    },
    taper: (x, y) => expectedTaper(placed, from, { x, y }),
    logOdds: isOfCores(map) ? logOddsSeenClosely : map.entry ? logOddsOfHeated : logOddsOfEnd,
  });
}

/**
 * A strip that is long, clean and starts where nothing leads on is an arrow, with heat or without: on
 * photos of all kinds heat fails sooner than geometry.
 */
function logOddsOfHeated(seen: SeenEntry): number {
  return (
    -3.2 +
    1.5 * Math.log(1 + seen.gain) +
    1.5 * heatOdds(seen.heat) +
    0.3 * seen.direction -
    4 * seen.behind -
    3 * seen.farBehind -
    1.5 * seen.vane
  );
}

/** Part of arrows that lean any way, and of what is no arrow but points as arrows do, lying on them. */
const LEANS_ANY_WAY = 0.04;
const ON_ARROWS = 0.7;

/**
 * Log-odds against an entry whose strip leads another way than arrows do; strips that lead theirs may be
 * pieces of arrows. It is no part of what strips are fitted by, which would turn them until they suit.
 */
export function oddsOfWay({ direction }: SeenEntry): number {
  const density = Math.exp(direction);
  const odds =
    (LEANS_ANY_WAY + (1 - LEANS_ANY_WAY) * density) / (1 - ON_ARROWS + ON_ARROWS * density);
  return Math.min(0, Math.log(odds));
}

/** What tells of an entry that is seen closely, the first term 1. */
export function termsSeenClosely(seen: SeenEntry): number[] {
  return [1, Math.log(1 + seen.gain), heatOdds(seen.heat), seen.behind, seen.farBehind, seen.vane];
}

/**
 * Log-odds by those terms: an entry's own heat tells most. The means of two logistic regressions, over 580
 * and 510 places on drawn photos of arrows as people take them; `npm run bench -- odds` fits them anew.
 */
export const WEIGHTS_SEEN_CLOSELY = [-3.1, 0.46, 3.6, -3.3, -2.2, -2] as const;

function logOddsSeenClosely(seen: SeenEntry): number {
  return termsSeenClosely(seen).reduce((sum, term, i) => sum + WEIGHTS_SEEN_CLOSELY[i]! * term, 0);
}

function logOddsOfEnd(seen: SeenEntry): number {
  return (
    -6 + 2.2 * Math.log(1 + seen.gain) + 0.7 * seen.direction - 4 * seen.behind - 2 * seen.farBehind
  );
}

/**
 * Taper of an arrow that enters at a place: it is seen as much wider as it is nearer to the camera.
 * @returns likeliest, least and most, by how much arrows may lean
 */
export function expectedTaper(
  { map, toSheet, mmPerCell }: PlacedMap,
  { geometry, slopeSd }: SeenFrom,
  { x, y }: Pick<Strip, 'x' | 'y'>,
): [number, number, number] {
  const leanSd = Math.hypot(LEAN_SD, slopeSd);
  const slope = Math.hypot(...normalSlope(geometry, toSheet(x, y)));
  const at = (steep: number): number =>
    (map.shaft * mmPerCell) / (Math.max(LEAST_SLOPE, steep) * geometry.heightMm);
  return [at(Math.max(slope, leanSd)), at(slope + 2 * leanSd), at(slope - 2 * leanSd)];
}
