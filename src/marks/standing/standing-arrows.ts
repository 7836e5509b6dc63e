import type { SpotMm } from '../../face/coordinates.ts';
import type { FaceFit } from '../../fit/camera/face-fit.ts';
import { flatToSpot } from '../../fit/flat/flatten.ts';
import type { SpotView } from '../flat-view/spot-view.ts';
import { mapOnFlat } from '../network/map-on-flat.ts';
import type { EvidenceMaps } from '../network/evidence-maps.ts';
import { barMap } from './bar-map.ts';
import { barScan, type Bar, type BarScan } from './bar-scan.ts';
import { entriesFromBars } from './entries-from-bars.ts';
import { entriesFromMaps } from './entries-from-maps.ts';
import type { RefinedEntry } from './refine-entry.ts';

/** A standing arrow, as far as it can be made out. */
export interface StandingArrow {
  readonly spot: number;
  /** Where the axis of the shaft meets the paper. */
  readonly mm: SpotMm;
  /** One-sigma uncertainty of the position per axis on the flat face, mm. */
  readonly sdMm: number;
  /** Probability of being an arrow. */
  readonly probability: number;
  /** Unit vector on the flat face from the entry towards the nock. */
  readonly along: readonly [number, number];
  /** Length of its image on the flat face, mm. */
  readonly lengthMm: number;
  /** The entry itself lies behind another arrow. */
  readonly hidden: boolean;
}

/** Scores at which an arrow is as likely as not, by what the entries were found with. */
const EVEN_SCORE = { maps: 1, bars: 2 } as const;
/** Log-odds per unit of score. */
const SLOPE = 0.8;
/** Weakest candidate handed on. */
const LEAST_PROBABILITY = 0.05;
/** Bar strength below which the entry itself is taken to lie behind something. */
const HIDDEN_BAR = 0.55;

/** Arrows standing in a spot: shafts that lead to their entries in the paper. */
export function standingArrows(
  view: SpotView,
  fit: FaceFit,
  maps: EvidenceMaps | null,
): StandingArrow[] {
  const { flat, shaftMm } = view;
  const bars = maps ? mapOnFlat(maps.shaft, maps, flat) : barMap(view);
  const scan = barScan(view, bars, fit);
  const entries: Entry[] = maps
    ? entriesFromMaps(view, bars, scan, maps)
    : entriesFromBars(view, bars, scan);
  const ranked = withoutExplained(entries, scan.shaftPx);
  const even = maps ? EVEN_SCORE.maps : EVEN_SCORE.bars;
  return ranked
    .map((entry) => ({
      entry,
      probability: 1 / (1 + Math.exp(-SLOPE * (entry.score - even))),
    }))
    .filter(({ probability }) => probability >= LEAST_PROBABILITY)
    .map(({ entry, probability }): StandingArrow => {
      const hidden = entry.bar < HIDDEN_BAR;
      const sdShafts = Math.sqrt((entry.acrossSd ** 2 + entry.alongSd ** 2) / 2);
      return {
        spot: flat.spot,
        mm: flatToSpot(flat, [entry.x, entry.y]),
        sdMm: Math.hypot(sdShafts * shaftMm * (hidden ? 2.5 : 1.2), 0.5 * flat.mmPerPx),
        probability,
        along: aimedAlong(entry, scan, entry.lengthMm / flat.mmPerPx),
        lengthMm: entry.lengthMm,
        hidden,
      };
    });
}

/** Log-odds against the worse of two bars in one line: they are mostly the same shaft. */
const EXPLAINED = 4;
/** Two bars in one line point less than this apart, radians. */
const SAME_DIRECTION = 0.2;

type Entry = Bar & RefinedEntry & { readonly heat?: number };

/**
 * Marks down one of two bars in one line. The one further up is as a rule a part of the shaft whose
 * entry is further down, the less so the more heat of an entry it has; but where it has that heat and
 * the other has not, what lies before it is its shadow.
 */
function withoutExplained(entries: readonly Entry[], shaftPx: number): Entry[] {
  const against = entries.map(() => 0);
  entries.forEach((lower, i) => {
    entries.forEach((upper, j) => {
      if (i === j || !isFurtherUp(lower, upper, shaftPx)) return;
      const upperIsEntry = (upper.heat ?? 0) > 0.1 && (upper.heat ?? 0) > 1.5 * (lower.heat ?? 0);
      if (upperIsEntry) against[i] = EXPLAINED;
      else if (lower.score > upper.score - EXPLAINED) {
        against[j] = Math.max(against[j]!, EXPLAINED * (1 - (upper.heat ?? 0)));
      }
    });
  });
  return entries.map((entry, i) => ({ ...entry, score: entry.score - against[i]! }));
}

function isFurtherUp(lower: Entry, upper: Entry, shaftPx: number): boolean {
  const dx = upper.x - lower.x;
  const dy = upper.y - lower.y;
  const ahead = dx * lower.alongX + dy * lower.alongY;
  const beside = Math.abs(dx * lower.alongY - dy * lower.alongX);
  const turn = Math.acos(Math.min(1, upper.alongX * lower.alongX + upper.alongY * lower.alongY));
  return (
    ahead > shaftPx && beside < (0.7 + 0.02 * (ahead / shaftPx)) * shaftPx && turn < SAME_DIRECTION
  );
}

/**
 * How far the edges near the entry may have misled about the direction, radians; steps to try; and what
 * share of the bar a whole radian away from them has to win.
 */
const AIM = { reach: 0.1, step: 0.01, reluctance: 0.3 } as const;
/** Beside the middle line, in shafts, where a bar that is followed still covers the face. */
const WITHIN = 0.35;

/**
 * Direction of a bar as far as it goes, as a unit vector of the spot: the edges near the entry alone
 * miss its far end by several shafts now and then.
 */
function aimedAlong(
  entry: Entry,
  { valueAcross, shaftPx }: BarScan,
  lengthPx: number,
): [number, number] {
  const near = Math.atan2(entry.alongY, entry.alongX);
  const off = WITHIN * shaftPx;
  let best = { merit: -Infinity, angle: near };
  for (let turn = -AIM.reach; turn < AIM.reach + AIM.step / 2; turn += AIM.step) {
    const [ux, uy] = [Math.cos(near + turn), Math.sin(near + turn)];
    let covered = 0;
    let count = 0;
    for (let d = shaftPx; d <= lengthPx; d += shaftPx / 2) {
      covered += valueAcross(entry.x + d * ux, entry.y + d * uy, ux, uy, off);
      count++;
    }
    const merit = covered / Math.max(1, count) - AIM.reluctance * Math.abs(turn);
    if (merit > best.merit) best = { merit, angle: near + turn };
  }
  return [Math.cos(best.angle), -Math.sin(best.angle)];
}
