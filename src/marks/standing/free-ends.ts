import type { SpotMm } from '../../face/coordinates.ts';
import { spotToFlat, type FlatFace } from '../../fit/flat/flatten.ts';
import { sheetToPhoto, spotToSheet } from '../../fit/camera/project.ts';
import type { FaceFit } from '../../fit/camera/face-fit.ts';
import {
  heightOfEnd,
  inFrameOf,
  widening,
  type ArrowGeometry,
  type FollowedImage,
} from './arrow-geometry.ts';
import { followed, type SeenEntry } from './entries-on-map.ts';
import { depthIn, type Part } from './parts-around.ts';
import type { ShaftMap } from './shaft-map.ts';

/** With what was seen where it enters. */
interface Followed extends FollowedImage {
  readonly seen: SeenEntry;
}

/** A part of a spot seen closely, and where it lies on the flat face. */
export interface EndLook {
  readonly part: Part;
  readonly flat: FlatFace;
  readonly map: ShaftMap;
}

/** What nobody would count anyway need not be looked after. */
const LEAST_PROBABILITY = 0.2;
/** Arrows stand out of the paper at least so far, mm (common practice, no published source). */
const LEAST_OUT_MM = 380;
/**
 * An image that ends below this part of that is looked after where it ends; or of where others end in view:
 * where all of them seem short, camera or network is the reason.
 */
const EARLY = 0.5;
/** From so likely on others tell where arrows of this photo end. */
const LIKELY = 0.5;
/** The look lies so far ahead of the end, and its strip is taken up so far before it, in shafts. */
const AHEAD = 8;
const BEFORE = 3;
/** The photo has to show so much beyond the end, in shafts. */
const SHOWN = 4;
/** Beside others' images, in widths of theirs, an end may lie behind them. */
const BESIDE_OTHERS = 2;
/** Arrows that enter behind this part of another's image start on it: they are not one of a bunch. */
const BUNCHED = 0.25;
/** Share of arrows that break off where nothing covers them: the network overlooks pieces of shafts. */
const BROKEN_OFF = 0.01;
/** Nails, print and torn holes are long between these, mm of height, each factor as likely. */
const STUMPS_MM = [20, 400] as const;

/**
 * Marks down what ends in full view so near to the paper that it is no arrow: nails and pins, print, holes
 * and pieces of other shafts. Arrows that seem to end there are followed on a closer look ahead.
 *
 * @param lookAt Sees parts around places of a spot closely; none where there is no network to look with.
 */
export async function judgedByEnds<T extends Followed>(
  arrows: readonly T[],
  fit: FaceFit,
  geometry: ArrowGeometry,
  shaftMm: number,
  lookAt: (spot: number, places: readonly SpotMm[]) => Promise<readonly EndLook[]>,
): Promise<T[]> {
  const heights = arrows.map((arrow) => heightOf(arrow, arrow.lengthMm, fit, geometry));
  const leastMm = arrows.map((_, i) => leastHeight(arrows, heights, i));
  const early = arrows.filter((arrow, i) => {
    if (arrow.probability < LEAST_PROBABILITY) return false;
    return (
      heights[i]! < leastMm[i]! &&
      isShown(arrow, arrow.lengthMm + SHOWN * shaftMm, fit) &&
      !arrows.some((other) => endsBeside(arrow, other, geometry, shaftMm))
    );
  });
  const looks = new Map<number, readonly EndLook[]>();
  for (const spot of new Set(early.map((arrow) => arrow.spot))) {
    const places = early
      .filter((arrow) => arrow.spot === spot)
      .map((arrow) => alongImage(arrow, arrow.lengthMm + AHEAD * shaftMm));
    looks.set(spot, await lookAt(spot, places));
  }
  return arrows.map((arrow, i) => {
    if (!early.includes(arrow)) return arrow;
    const look = deepestLook(looks.get(arrow.spot)!, alongImage(arrow, arrow.lengthMm));
    const end = look && endOf(arrow, look, shaftMm);
    if (!end || end.runsOut || !isShown(arrow, end.lengthMm + SHOWN * shaftMm, fit)) return arrow;
    const heightMm = heightOf(arrow, end.lengthMm, fit, geometry);
    if (heightMm >= leastMm[i]!) return arrow;
    const odds =
      (arrow.probability / (1 - arrow.probability)) * oddsOfEnd(Math.max(STUMPS_MM[0], heightMm));
    return { ...arrow, probability: odds / (1 + odds) };
  });
}

/** Height, mm, below which arrow `i` ends early: what runs out of the picture ends higher than is seen. */
function leastHeight(arrows: readonly Followed[], heights: readonly number[], i: number): number {
  const others = arrows.flatMap(({ probability, runsOut }, k) =>
    k === i || probability < LIKELY ? [] : [runsOut ? Infinity : heights[k]!],
  );
  others.sort((a, b) => a - b);
  return EARLY * Math.min(LEAST_OUT_MM, others[others.length >> 1] ?? Infinity);
}

/** How much likelier arrows end in view at such a height, mm, than other things that look like them. */
function oddsOfEnd(heightMm: number): number {
  const [least, most] = STUMPS_MM;
  return (BROKEN_OFF / LEAST_OUT_MM) * heightMm * Math.log(most / least);
}

function alongImage({ mm, along }: Followed, distanceMm: number): [number, number] {
  return [mm[0] + distanceMm * along[0], mm[1] + distanceMm * along[1]];
}

function heightOf(
  { spot, mm }: Followed,
  lengthMm: number,
  fit: FaceFit,
  geometry: ArrowGeometry,
): number {
  return heightOfEnd(geometry, spotToSheet(fit, spot, mm), lengthMm);
}

function isShown(arrow: Followed, distanceMm: number, fit: FaceFit): boolean {
  const place = spotToSheet(fit, arrow.spot, alongImage(arrow, distanceMm));
  const [x, y] = sheetToPhoto(fit, place);
  return x > 0 && y > 0 && x < fit.photoSize[0] && y < fit.photoSize[1];
}

/** Whether an arrow ends beside the image of another that enters near it: one of a bunch hides the others. */
function endsBeside(
  arrow: Followed,
  other: Followed,
  geometry: ArrowGeometry,
  shaftMm: number,
): boolean {
  if (other === arrow || other.spot !== arrow.spot || other.probability < LIKELY) return false;
  const start = inFrameOf(other, arrow.mm);
  const end = inFrameOf(other, alongImage(arrow, arrow.lengthMm));
  if (start.ahead > BUNCHED * other.lengthMm) return false;
  const part = end.ahead / other.lengthMm;
  const widthMm = shaftMm * (1 + (widening(geometry) - 1) * Math.max(0, Math.min(1, part)));
  return part > 0 && part < 1 && end.beside < BESIDE_OTHERS * widthMm;
}

function deepestLook(looks: readonly EndLook[], mm: SpotMm): EndLook | null {
  let best: EndLook | null = null;
  for (const look of looks) {
    if (!best || depthIn(look.part, mm) > depthIn(best.part, mm)) best = look;
  }
  return best;
}

/** How far the image of an arrow goes by a look at its end, mm, and whether it leaves that look. */
function endOf(
  arrow: Followed,
  { flat, map }: EndLook,
  shaftMm: number,
): { lengthMm: number; runsOut: boolean } {
  const from = arrow.lengthMm - BEFORE * shaftMm;
  const [x, y] = spotToFlat(flat, alongImage(arrow, from));
  const { length, runsOut } = followed(map, {
    ...arrow.seen,
    x: x / map.pxPerCell,
    y: y / map.pxPerCell,
    angle: Math.atan2(-arrow.along[1], arrow.along[0]),
    length: 0,
  });
  return { lengthMm: from + length * map.pxPerCell * flat.mmPerPx, runsOut };
}
