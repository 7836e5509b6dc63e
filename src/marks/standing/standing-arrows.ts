import type { SpotMm } from '../../face/coordinates.ts';
import { FACES, outerRadiusMm } from '../../face/faces.ts';
import type { FaceFit } from '../../fit/camera/face-fit.ts';
import { flatToSpot, spotToFlat, type FlatFace } from '../../fit/flat/flatten.ts';
import { pxPerMm, spotToSheet } from '../../fit/camera/project.ts';
import type { SpotView } from '../flat-view/spot-view.ts';
import type { EvidenceMaps } from '../network/evidence-maps.ts';
import { mapOnFlat } from '../network/map-on-flat.ts';
import { peaksOf } from '../network/peaks-of.ts';
import { arrowGeometry, type ArrowGeometry } from './arrow-geometry.ts';
import { arrowEntries, expectedTaper, seenFrom, type PlacedMap } from './arrows-on-map.ts';
import { barMap } from './bar-map.ts';
import type { SeenFrom } from './camera-from-strips.ts';
import { followed, type FoundEntry, type SeenEntry } from './entries-on-map.ts';
import { refineEntry, type RefinedEntry } from './refine-entry.ts';
import { largestNear, shaftMapOfBars, shaftMapOfEvidence, type ShaftMap } from './shaft-map.ts';
import { otherWidth, seenWidth } from './shaft-width.ts';

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

/** One spot of a face and the evidence that a network sees there, null without one. */
export interface SpotLook {
  readonly view: SpotView;
  readonly maps: EvidenceMaps | null;
}

export interface StandingArrows {
  readonly arrows: StandingArrow[];
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
  shaftMm: number,
) => Promise<{ readonly flat: FlatFace; readonly maps: EvidenceMaps } | null>;

/** Arrows standing in a face: shafts that lead to their entries in the paper. */
export async function standingArrows(
  looks: readonly SpotLook[],
  fit: FaceFit,
  closer: CloserLook,
): Promise<StandingArrows> {
  const shaftMm = looks[0]!.view.shaftMm;
  const first = looks.map(({ view, maps }) =>
    placedMap(
      maps
        ? shaftMapOfEvidence(maps, view.flat, shaftMm)
        : shaftMapOfBars(barMap(view), view.flat, shaftMm),
      maps,
      view.flat,
      fit,
      shaftMm,
    ),
  );
  const from = seenFrom(arrowGeometry(fit), first);
  const roughly = first.map((placed) => arrowEntries(placed, from));
  const widths = first.flatMap((placed, i) =>
    roughly[i]!.flatMap((entry) => {
      const [taper] = expectedTaper(placed, from, entry);
      return seenWidth(looks[i]!.view, placed.map, entry, taper) ?? [];
    }),
  );
  const ownMm = otherWidth(widths, shaftMm) ?? shaftMm;
  const arrows: StandingArrow[] = [];
  for (const [i, look] of looks.entries()) {
    const placed: PlacedMap = {
      ...first[i]!,
      map: { ...first[i]!.map, shaft: (first[i]!.map.shaft * ownMm) / shaftMm },
    };
    arrows.push(...(await arrowsOfSpot(look, placed, roughly[i]!, from, ownMm, fit, closer)));
  }
  return { arrows, geometry: from.geometry, shaftMm: ownMm };
}

/** Shafts are looked at so wide at best and at least, flat pixels, where arrows enter. */
const CLOSE_SHAFT_PX = { best: 10, least: 5 } as const;
/** A flat pixel shows at least so much of one of the photo: more would only be blurred. */
const LEAST_PHOTO_PX = 0.6;
/** A closer look is worth its time where it shows shafts so much wider. */
const CLOSER = 1.25;
/** Widest closer look, px; bounds its time. */
const MOST_CLOSE_PX = 704;
/** Seen around entries that are looked at closer, in shafts. */
const CLOSE_MARGIN = 14;
/** Entries as likely as this are looked at closer. */
const CLOSE_ODDS = -2;

/** Where arrows of a spot may enter, seen at a scale at which they can be told apart. */
async function lookCloser(
  { view, maps }: SpotLook,
  placed: PlacedMap,
  roughly: readonly FoundEntry[],
  shaftMm: number,
  fit: FaceFit,
  closer: CloserLook,
): Promise<PlacedMap | null> {
  const { flat } = view;
  const likely = roughly.filter(({ logOdds }) => logOdds >= CLOSE_ODDS);
  if (!maps || likely.length === 0) return null;
  const q = placed.map.pxPerCell;
  const places = likely.map(({ x, y }) => flatToSpot(flat, [x * q, y * q]));
  const range = (axis: 0 | 1): [number, number] => [
    Math.min(...places.map((place) => place[axis])),
    Math.max(...places.map((place) => place[axis])),
  ];
  const [left, right] = range(0);
  const [low, high] = range(1);
  const halfWidthMm = Math.max(right - left, high - low) / 2 + CLOSE_MARGIN * shaftMm;
  const photoMm =
    1 / pxPerMm(fit, spotToSheet(fit, flat.spot, [(left + right) / 2, (low + high) / 2]));
  const mmPerPx = Math.max(
    shaftMm / CLOSE_SHAFT_PX.best,
    Math.min(0.8 * photoMm, Math.max(LEAST_PHOTO_PX * photoMm, shaftMm / CLOSE_SHAFT_PX.least)),
    (2 * halfWidthMm) / MOST_CLOSE_PX,
  );
  if (flat.mmPerPx < CLOSER * mmPerPx) return null;
  const look = await closer(
    flat.spot,
    { centreMm: [(left + right) / 2, (low + high) / 2], halfWidthMm, mmPerPx },
    shaftMm,
  );
  return (
    look &&
    placedMap(shaftMapOfEvidence(look.maps, look.flat, shaftMm), look.maps, look.flat, fit, shaftMm)
  );
}

function placedMap(
  map: ShaftMap,
  maps: EvidenceMaps | null,
  flat: FlatFace,
  fit: FaceFit,
  shaftMm: number,
): PlacedMap {
  const limit = outerRadiusMm(FACES[fit.face]) + shaftMm;
  const { pxPerCell, width, height, seen } = map;
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
    peaks: maps
      ? peaksOf(maps.entry, maps, LEAST_PEAK).map(({ px }) => [
          px[0] / pxPerCell,
          px[1] / pxPerCell,
        ])
      : [],
  };
}

async function arrowsOfSpot(
  look: SpotLook,
  placed: PlacedMap,
  roughly: readonly FoundEntry[],
  from: SeenFrom,
  shaftMm: number,
  fit: FaceFit,
  closer: CloserLook,
): Promise<StandingArrow[]> {
  const { view, maps } = look;
  const { flat } = view;
  const bars = maps ? mapOnFlat(maps.shaft, maps, flat) : barMap(view);
  const close = await lookCloser(look, placed, roughly, shaftMm, fit, closer);
  const seenOn = close ?? placed;
  return arrowEntries(seenOn, from)
    .map((seen) => ({ seen, probability: 1 / (1 + Math.exp(-seen.logOdds)) }))
    .filter(({ probability }) => probability >= LEAST_PROBABILITY)
    .map(({ seen, probability }): StandingArrow => {
      const entry = entryOf(view, seenOn, bars, seen, shaftMm);
      const hidden = seen.heat < 0.1 && seen.evidence > 1.5 * seen.gain;
      const sdShafts = Math.sqrt((entry.acrossSd ** 2 + entry.alongSd ** 2) / 2);
      const [x, y] = placed.fromSpot(seenOn.toSpot(seen.x, seen.y));
      const far = close ? followed(placed.map, { ...seen, x, y }) : seen;
      return {
        spot: flat.spot,
        mm: flatToSpot(flat, [entry.x, entry.y]),
        sdMm: Math.hypot(sdShafts * shaftMm * (hidden ? 2.5 : 1.2), 0.5 * flat.mmPerPx),
        probability,
        along: [Math.cos(far.farAngle), -Math.sin(far.farAngle)],
        lengthMm: far.length * placed.mmPerCell,
        hidden,
      };
    });
}

/** One sigma of the heat's peak, and of the end of a strip, along the shaft, in shafts. */
const PEAK_SD = 0.1;
const END_SD = 0.3;

/** The entry of a strip, flat px: across by the shaft's own edges, along by the peak of heat near its end. */
function entryOf(
  view: SpotView,
  { map, peaks, toSpot }: PlacedMap,
  bars: Float32Array,
  strip: SeenEntry,
  shaftMm: number,
): RefinedEntry {
  const { flat } = view;
  const ux = Math.cos(strip.angle);
  const uy = Math.sin(strip.angle);
  const shaft = shaftMm / flat.mmPerPx;
  let peak: { x: number; y: number; merit: number } | null = null;
  for (const [px, py] of peaks) {
    const ahead = ((px - strip.x) * ux + (py - strip.y) * uy) / map.shaft;
    const beside = Math.abs((px - strip.x) * uy - (py - strip.y) * ux) / map.shaft;
    if (ahead < -2.5 || ahead > 2 || beside > 0.7) continue;
    const heat = largestNear(map, map.entry!, px, py, 1);
    const merit = Math.log(heat) - beside ** 2 - (ahead / 1.5) ** 2;
    if (!peak || merit > peak.merit) peak = { x: px, y: py, merit };
  }
  const [x, y] = spotToFlat(flat, toSpot(peak?.x ?? strip.x, peak?.y ?? strip.y));
  const at = { x, y, alongX: ux, alongY: uy };
  const edges = refineEntry(view, bars, shaftMm, at);
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
