import type { SpotMm } from '../../face/coordinates.ts';
import { FACES, outerRadiusMm } from '../../face/faces.ts';
import type { FaceFit } from '../../fit/camera/face-fit.ts';
import { flatToSpot, spotToFlat, type FlatFace } from '../../fit/flat/flatten.ts';
import { spotToSheet } from '../../fit/camera/project.ts';
import { withoutDoubles } from '../candidates/without-doubles.ts';
import type { SpotView } from '../flat-view/spot-view.ts';
import { SHAFT_PX, type EntryMaps } from '../network/entry-network.ts';
import type { EvidenceMaps } from '../network/evidence-maps.ts';
import { mapOnFlat } from '../network/map-on-flat.ts';
import type { PlanesContext } from '../network/network-planes.ts';
import { peaksOf } from '../network/peaks-of.ts';
import { arrowGeometry, type ArrowGeometry } from './arrow-geometry.ts';
import {
  arrowEntries,
  expectedTaper,
  oddsOfWay,
  seenFrom,
  type PlacedMap,
} from './arrows-on-map.ts';
import { barMap } from './bar-map.ts';
import type { SeenFrom } from './camera-from-strips.ts';
import { followed, type FoundEntry, type SeenEntry } from './entries-on-map.ts';
import { judgedByEnds, type EndLook } from './free-ends.ts';
import { joinedByOthers } from './joined-by-others.ts';
import { refineEntry, type RefinedEntry } from './refine-entry.ts';
import {
  isOfCores,
  largestNear,
  shaftMapOfBars,
  shaftMapOfEntries,
  shaftMapOfEvidence,
  type ShaftMap,
} from './shaft-map.ts';
import { partsAround, depthIn, type Part } from './parts-around.ts';
import { peakSd, pxAlong } from './peak-sd.ts';
import { likelyWidths, seenWidth, type LikelyWidth } from './shaft-width.ts';
import { weighedAsPieces, withoutRears } from './without-rears.ts';

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
  /** Whether its image goes on where the picture ends. */
  readonly runsOut: boolean;
  /** The entry itself lies behind another arrow. */
  readonly hidden: boolean;
}

/** A standing arrow and what its probability is of. */
export interface SeenArrow extends StandingArrow {
  readonly seen: SeenEntry;
}

/** One spot of a face and the evidence that a network sees there, null without one. */
export interface SpotLook {
  readonly view: SpotView;
  readonly maps: EvidenceMaps | null;
}

export interface StandingArrows {
  readonly arrows: SeenArrow[];
  /** Where the camera was, by rings and shafts together. */
  readonly geometry: ArrowGeometry;
  /** Diameter of the shafts, mm: the one told, or the one that the photo shows where it cannot be that. */
  readonly shaftMm: number;
}

/** Weakest heat of an entry that is looked at. */
const LEAST_PEAK = 0.05;
/** Weakest candidate handed on. */
const LEAST_PROBABILITY = 0.03;

/** Looks at a part of a spot again; null where there is no network to look with. */
export type CloserLook = (
  spot: number,
  part: { readonly centreMm: SpotMm; readonly halfWidthMm: number; readonly mmPerPx: number },
  context: Pick<PlanesContext, 'shaftMm' | 'camera'>,
) => Promise<{ readonly flat: FlatFace; readonly maps: EntryMaps } | null>;

/** What an arrow has to be likelier than to speak for the width at which it is seen (log-odds). */
const COST = 0.5;
/** Strips of one photo show their widths wrongly together: what they say of it counts for so much. */
const WIDTH_TRUST = 0.5;

/** One spot, and what a first look at the whole of it saw. */
interface SeenSpot extends SpotLook {
  readonly placed: PlacedMap;
  /** What covers the face, one value of 0 to 1 for each flat pixel; made when it is first asked for. */
  readonly bars: () => Float32Array;
  readonly roughly: readonly FoundEntry[];
}

/** What all spots of a photo share. */
interface Sight {
  readonly fit: FaceFit;
  readonly from: SeenFrom;
  readonly closer: CloserLook;
}

/**
 * Arrows standing in a face: shafts that lead to their entries in the paper.
 *
 * @param isShaftSaid Whether somebody said the diameter that the looks were made for, or it is a usual one.
 */
export async function standingArrows(
  looks: readonly SpotLook[],
  fit: FaceFit,
  closer: CloserLook,
  { isShaftSaid }: { readonly isShaftSaid: boolean },
): Promise<StandingArrows> {
  const toldMm = looks[0]!.view.shaftMm;
  const first = looks.map((look) => {
    const { view, maps } = look;
    const bars = once(() => (maps ? mapOnFlat(maps.shaft, maps, view.flat) : barMap(view)));
    const map = maps
      ? shaftMapOfEvidence(maps, view.flat, toldMm)
      : shaftMapOfBars(bars(), view.flat, toldMm);
    return { ...look, bars, placed: placedMap(map, view.flat, fit, toldMm) };
  });
  const placed = first.map((spot) => spot.placed);
  const from = seenFrom(arrowGeometry(fit), placed);
  const spots = first.map((spot): SeenSpot => ({
    ...spot,
    roughly: arrowEntries(spot.placed, from),
  }));
  const sight: Sight = { fit, from, closer };
  // Networks in a thread of their own look at one while this one weighs what they saw of another.
  const tried = await Promise.all(
    widthsToTry(spots, from, toldMm, isShaftSaid).map(async ({ mm: shaftMm, logOdds }) => {
      const seen = await Promise.all(
        spots.map(async (spot) => ({ spot, close: await lookCloser(spot, shaftMm, sight) })),
      );
      const evidence = arrowsSeen(seen, shaftMm, sight).reduce(
        (sum, { probability }) =>
          sum + Math.max(0, Math.log(probability / (1 - probability)) - COST),
        WIDTH_TRUST * logOdds,
      );
      return { shaftMm, seen, evidence };
    }),
  );
  const { shaftMm, seen } = tried.reduce((best, one) =>
    one.evidence > best.evidence ? one : best,
  );
  const all = await Promise.all(
    seen.map(async ({ spot, close }) => ({
      spot,
      close: await lookBeyond(spot, close, shaftMm, sight),
    })),
  );
  const arrows = await judgedByEnds(
    weighedAsPieces(arrowsSeen(all, shaftMm, sight), fit, from.geometry, shaftMm),
    fit,
    from.geometry,
    shaftMm,
    (spot, places) => {
      const { view, maps } = spots.find((one) => one.view.flat.spot === spot)!;
      return maps ? eachAround(places, view, shaftMm, sight, (look) => look) : Promise.resolve([]);
    },
  );
  return { arrows, geometry: from.geometry, shaftMm };
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => (made ??= { value: make() }).value;
}

/** A spot, and what closer looks at parts of it saw. */
interface SeenClosely {
  readonly spot: SeenSpot;
  readonly close: readonly CloseLook[];
}

function arrowsSeen(seen: readonly SeenClosely[], shaftMm: number, sight: Sight): SeenArrow[] {
  const arrows = seen.flatMap((one) => arrowsOfSpot(one, shaftMm, sight));
  return withoutRears(withoutDoubles(arrows, shaftMm), sight.from.geometry, shaftMm);
}

/** Widths of shafts that are worth a look each; the one looked for alone where no arrow seems to stand. */
function widthsToTry(
  spots: readonly SeenSpot[],
  from: SeenFrom,
  toldMm: number,
  isSaid: boolean,
): LikelyWidth[] {
  if (spots.every(({ roughly }) => likely(roughly).length === 0)) {
    return [{ mm: toldMm, logOdds: 0 }];
  }
  const widths = spots.flatMap(({ view, placed, roughly }) =>
    roughly.flatMap((entry) => {
      const [taper] = expectedTaper(placed, from, entry);
      return seenWidth(view, placed.map, entry, taper) ?? [];
    }),
  );
  return likelyWidths(widths, toldMm, isSaid);
}

/** Seen around entries that are looked at closer, in shafts. */
const CLOSE_MARGIN = 14;
/** Widest closer look, px; bounds its memory. */
const MOST_CLOSE_PX = 704;
/** Entries as likely as this are looked at closer. */
const CLOSE_ODDS = -2;

function likely(roughly: readonly FoundEntry[]): FoundEntry[] {
  return roughly.filter(({ logOdds }) => logOdds >= CLOSE_ODDS);
}

/** A part of a spot as seen closely, and what enters there. */
interface CloseLook {
  readonly part: Part;
  readonly placed: PlacedMap;
  readonly entries: readonly { readonly seen: FoundEntry; readonly mm: SpotMm }[];
}

/** Where a strip starts so near to the end of a part, in shafts, it may come from beyond. */
const FROM_BEYOND = 4;
/** Nearer to it, in shafts, it does. */
const AT_END = 1.5;
/** How often what comes from beyond a part is looked after. */
const MOST_AFTER = 2;

/**
 * Parts of a spot where arrows may enter, seen at a scale at which they can be told apart: around what was
 * seen roughly, and where others join it.
 */
function lookCloser(spot: SeenSpot, shaftMm: number, sight: Sight): Promise<CloseLook[]> {
  const { map, isOnFace, toSpot } = spot.placed;
  const places = likely(spot.roughly).flatMap((entry) => {
    const joined = joinedByOthers(map, entry);
    const isHiding = joined && isOnFace(...joined);
    return [toSpot(entry.x, entry.y), ...(isHiding ? [toSpot(...joined)] : [])];
  });
  return looksAround(places, spot, shaftMm, sight);
}

/** What was seen closely and, where something seems to start where a part ends, what is around that. */
async function lookBeyond(
  spot: SeenSpot,
  close: readonly CloseLook[],
  shaftMm: number,
  sight: Sight,
): Promise<CloseLook[]> {
  const looks = [...close];
  for (let after = 0; after < MOST_AFTER; after++) {
    const places = looks.flatMap((look) =>
      look.entries
        .filter(
          ({ seen, mm }) =>
            seen.logOdds >= CLOSE_ODDS && deepest(looks, mm) < FROM_BEYOND * shaftMm,
        )
        .map(({ mm }) => mm),
    );
    if (places.length === 0) break;
    looks.push(...(await looksAround(places, spot, shaftMm, sight)));
  }
  return looks;
}

/** Looks at few parts that show these places; none where there is no network to look with. */
async function looksAround(
  places: readonly SpotMm[],
  { view, maps }: SeenSpot,
  shaftMm: number,
  sight: Sight,
): Promise<CloseLook[]> {
  if (!maps) return [];
  const { fit, from } = sight;
  return eachAround(places, view, shaftMm, sight, ({ part, flat, map }) => {
    const placed = placedMap(map, flat, fit, shaftMm);
    const entries = arrowEntries(placed, from).map((seen) => ({
      seen,
      mm: placed.toSpot(seen.x, seen.y),
    }));
    return { part, placed, entries };
  });
}

/** What `use` makes of few parts that show these places, as the network sees them closely; nothing without it. */
async function eachAround<T>(
  places: readonly SpotMm[],
  { flat: { spot } }: SpotView,
  shaftMm: number,
  { from, closer }: Sight,
  use: (look: EndLook) => T,
): Promise<T[]> {
  const { footMm, heightMm } = from.geometry;
  const mostMm = (MOST_CLOSE_PX * shaftMm) / SHAFT_PX;
  const parts = partsAround(places, CLOSE_MARGIN * shaftMm, mostMm);
  const used = await Promise.all(
    parts.map(async (part) => {
      const look = await closer(
        spot,
        { ...part, mmPerPx: shaftMm / SHAFT_PX },
        { shaftMm, camera: [footMm[0], footMm[1], heightMm] },
      );
      if (!look) return [];
      const { flat, maps } = look;
      return [use({ part, flat, map: shaftMapOfEntries(maps, flat, shaftMm) })];
    }),
  );
  return used.flat();
}

/** How far inside one of the parts a place lies at most, mm. */
function deepest(looks: readonly CloseLook[], mm: SpotMm): number {
  return Math.max(...looks.map(({ part }) => depthIn(part, mm)));
}

function placedMap(map: ShaftMap, flat: FlatFace, fit: FaceFit, shaftMm: number): PlacedMap {
  const limit = outerRadiusMm(FACES[fit.face]) + shaftMm;
  const { pxPerCell, width, height, seen, entry } = map;
  const toSpot = (x: number, y: number) => flatToSpot(flat, [x * pxPerCell, y * pxPerCell]);
  return {
    map,
    mmPerCell: pxPerCell * flat.mmPerPx,
    toSpot,
    fromSpot: (mm) => {
      const [x, y] = spotToFlat(flat, mm);
      return [x / pxPerCell, y / pxPerCell];
    },
    toSheet: (x, y) => spotToSheet(fit, flat.spot, toSpot(x, y)),
    isOnFace: (x, y) => {
      if (x < 1 || y < 1 || x >= width - 1 || y >= height - 1) return false;
      return (
        seen[Math.floor(y) * width + Math.floor(x)] === 1 && Math.hypot(...toSpot(x, y)) < limit
      );
    },
    peaks: entry
      ? peaksOf(entry, map, LEAST_PEAK).map(({ px }) => [px[0] / pxPerCell, px[1] / pxPerCell])
      : [],
  };
}

function arrowsOfSpot({ spot, close }: SeenClosely, shaftMm: number, sight: Sight): SeenArrow[] {
  const { view, bars } = spot;
  const { flat, shaftMm: toldMm } = view;
  const placed = { ...spot.placed, map: withShaft(spot.placed.map, shaftMm / toldMm) };
  const whole = () => (shaftMm === toldMm ? spot.roughly : arrowEntries(placed, sight.from));
  const entries =
    close.length > 0
      ? close.flatMap(({ part, placed: seenOn, entries }) =>
          entries
            // Where parts overlap the one counts in which a place lies deeper.
            .filter(({ mm }) => {
              const depth = depthIn(part, mm);
              return depth >= AT_END * shaftMm && depth >= deepest(close, mm);
            })
            .map((one) => ({ ...one, seenOn })),
        )
      : whole().map((seen) => ({ seen, seenOn: placed, mm: placed.toSpot(seen.x, seen.y) }));
  return entries
    .map((one) => {
      const way = isOfCores(one.seenOn.map) ? oddsOfWay(one.seen) : 0;
      return { ...one, probability: 1 / (1 + Math.exp(-one.seen.logOdds - way)) };
    })
    .filter(({ probability }) => probability >= LEAST_PROBABILITY)
    .map(({ seen, seenOn, mm, probability }): SeenArrow => {
      const isClose = isOfCores(seenOn.map);
      const entry = entryOf(view, seenOn, bars, seen, shaftMm, sight.fit);
      const hidden = seen.heat < 0.1 && seen.evidence > 1.5 * seen.gain;
      const sdShafts = Math.sqrt((entry.acrossSd ** 2 + entry.alongSd ** 2) / 2);
      const sdMm = isClose
        ? sdShafts * shaftMm
        : Math.hypot(sdShafts * shaftMm * (hidden ? 2.5 : 1.2), 0.5 * flat.mmPerPx);
      const [x, y] = placed.fromSpot(mm);
      const length = (seen.length * seenOn.mmPerCell) / placed.mmPerCell;
      const far = close.length > 0 ? followed(placed.map, { ...seen, x, y, length }) : seen;
      return {
        spot: flat.spot,
        mm: flatToSpot(flat, [entry.x, entry.y]),
        sdMm,
        probability,
        along: [Math.cos(far.farAngle), -Math.sin(far.farAngle)],
        lengthMm: far.length * placed.mmPerCell,
        runsOut: far.runsOut,
        hidden,
        seen,
      };
    });
}

/** The same map, on which shafts are wider by a factor. */
function withShaft(map: ShaftMap, factor: number): ShaftMap {
  return { ...map, shaft: map.shaft * factor };
}

/** One sigma of the heat's peak, and of the end of a strip, along the shaft, in shafts. */
const PEAK_SD = 0.1;
const END_SD = 0.3;
/** The heat's peak lies so far before the axis meets the paper where it was looked at closely, in shafts. */
const CLOSE_PEAK_BEFORE = 0.05;

/** The entry of a strip, flat px: across by the shaft's own edges, along by the peak of heat near its end. */
function entryOf(
  view: SpotView,
  { map, peaks, toSpot }: PlacedMap,
  bars: () => Float32Array,
  strip: SeenEntry,
  shaftMm: number,
  fit: FaceFit,
): RefinedEntry {
  const { flat } = view;
  const ux = Math.cos(strip.angle);
  const uy = Math.sin(strip.angle);
  const shaft = shaftMm / flat.mmPerPx;
  let peak: { x: number; y: number; heat: number; merit: number } | null = null;
  for (const [px, py] of peaks) {
    const ahead = ((px - strip.x) * ux + (py - strip.y) * uy) / map.shaft;
    const beside = Math.abs((px - strip.x) * uy - (py - strip.y) * ux) / map.shaft;
    if (ahead < -2.5 || ahead > 2 || beside > 0.7) continue;
    const heat = largestNear(map, map.entry!, px, py, 1);
    const merit = Math.log(heat) - beside ** 2 - (ahead / 1.5) ** 2;
    if (!peak || merit > peak.merit) peak = { x: px, y: py, heat, merit };
  }
  const [x, y] = spotToFlat(flat, toSpot(peak?.x ?? strip.x, peak?.y ?? strip.y));
  const at = { x, y, alongX: ux, alongY: uy };
  // Seen closely, the peak of heat is nearer to the axis than the shaft's edges are in a coarser look.
  if (isOfCores(map) && peak) {
    const ahead = CLOSE_PEAK_BEFORE * shaft;
    const mm = toSpot(peak.x, peak.y);
    return {
      ...at,
      x: x + ahead * ux,
      y: y + ahead * uy,
      ...peakSd(peak.heat, shaftMm, pxAlong(fit, flat.spot, mm, [ux, -uy])),
    };
  }
  const edges = refineEntry(view, bars(), shaftMm, at);
  if (!peak) {
    const moved = Math.hypot(edges.x - x, edges.y - y) / shaft;
    return moved < 1.5
      ? { ...edges, alongSd: Math.max(END_SD, edges.alongSd) }
      : { ...at, acrossSd: 0.3, alongSd: 2 * END_SD };
  }
  // Back along the axis to where the peak is.
  const past = (edges.x - x) * edges.alongX + (edges.y - y) * edges.alongY;
  const backX = edges.x - past * edges.alongX;
  const backY = edges.y - past * edges.alongY;
  if (Math.hypot(backX - x, backY - y) < 0.6 * shaft) {
    return { ...edges, x: backX, y: backY, alongSd: PEAK_SD };
  }
  return { ...at, acrossSd: 0.25, alongSd: PEAK_SD };
}
