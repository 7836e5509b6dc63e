import { FACES, type Face, type Family, type Ink } from '../../face/faces.ts';
import { inkBands, lookOf, lookOfFamily, seenReach, type FamilyLook } from '../../face/looks.ts';
import type { PhotoCopy } from '../../raster/shrink.ts';
import { projectorOf, type CameraState } from '../camera/camera-state.ts';
import { colourIndex, type InkCosts } from './ink-costs.ts';

/** What of a strip between two circles around a spot has the colour of an ink. */
export interface InkShare {
  /** Of the strip's places within the frame, the part that may be of the ink; 0 where there are none. */
  readonly share: number;
  /** Part of the strip within the frame. */
  readonly inFrame: number;
}

/** Two radii around a spot's centre, mm. */
type Strip = readonly [number, number];

/**
 * Looks at the strip between two radii.
 *
 * @param within A strip of the next ink inward: haze and glare lift black, but never to its brightness.
 */
export type InkReader = (
  state: CameraState,
  spot: number,
  strip: Strip,
  ink: Ink,
  within: Strip | null,
) => InkShare;

const DIRECTIONS = 72;
const RADII = 4;
/** Black is darker than so much of a coloured ink's brightness, paper hardly darker than that ink. */
const BLACK_TO_COLOUR = 0.75;

/** Reads inks of a small copy of the photo by their costs under its own white. */
export function inkReader({ raster, factor }: PhotoCopy, costs: InkCosts): InkReader {
  return (state, spot, strip, ink, within) => {
    const projector = projectorOf(state);
    const [cx, cy] = state.spotCentresMm[spot]!;
    /** Pixels of a strip in one direction, by where their colours begin; those outside are left out. */
    const placesOf = ([from, to]: Strip, angle: number): number[] =>
      Array.from({ length: RADII }, (_, j) => {
        const radius = from + ((to - from) * (j + 0.5)) / RADII;
        projector.at(cx + radius * Math.cos(angle), cy + radius * Math.sin(angle));
        const x = Math.floor(projector.px[0] / factor);
        const y = Math.floor(projector.px[1] / factor);
        const inside = x >= 0 && y >= 0 && x < raster.width && y < raster.height;
        return inside ? (y * raster.width + x) * 4 : -1;
      }).filter((p) => p >= 0);
    const brightnessAt = (p: number) =>
      Math.max(raster.data[p]!, raster.data[p + 1]!, raster.data[p + 2]!);
    const costOf = costs.of[ink];
    const isInk = (p: number) =>
      costOf[colourIndex(raster.data[p]!, raster.data[p + 1]!, raster.data[p + 2]!)]! < 0.5;
    let seen = 0;
    let alike = 0;
    for (let k = 0; k < DIRECTIONS; k++) {
      const angle = (2 * Math.PI * k) / DIRECTIONS;
      const places = placesOf(strip, angle);
      seen += places.length;
      const inner = ink === 'black' && within ? placesOf(within, angle).map(brightnessAt) : [];
      if (inner.length === 0) {
        alike += places.filter(isInk).length;
      } else {
        const limit = BLACK_TO_COLOUR * inner.sort((a, b) => a - b)[inner.length >> 1]!;
        alike += places.filter((p) => brightnessAt(p) < limit).length;
      }
    }
    return { share: seen > 0 ? alike / seen : 0, inFrame: seen / (DIRECTIONS * RADII) };
  };
}

/** Part that is by chance of one of the inks of a family's faces. */
export function chanceOfInk(family: Family): number {
  return 1 / new Set(lookOfFamily(family).bands.map(({ ink }) => ink)).size;
}

/**
 * How much of a face's colours is where a fit has them, over these of its spots: 1 all of it.
 *
 * @param family Whose bands are looked for; a part of the fitted face's.
 */
export function inkAgreement(
  read: InkReader,
  state: CameraState,
  family: Family,
  spots: readonly number[] = state.spotCentresMm.map((_, spot) => spot),
): number {
  const { bands } = lookOfFamily(family);
  const unit = innermostMm(FACES[state.face]);
  let sum = 0;
  let weights = 0;
  spots.forEach((spot) => {
    bands.forEach(({ ink, reach }, i) => {
      // White beyond the other inks is told from paper and pale bosses by nothing.
      if (ink === 'white' && i === bands.length - 1) return;
      const inner = bands[i - 1]?.reach ?? 0;
      const stripOf = (from: number, to: number): Strip => {
        const margin = 0.08 * (to - from);
        return [(from + margin) * unit, (to - margin) * unit];
      };
      const within = i > 0 ? stripOf(bands[i - 2]?.reach ?? 0, inner) : null;
      const { share, inFrame } = read(state, spot, stripOf(inner, reach), ink, within);
      const area = (reach * reach - inner * inner) * inFrame;
      sum += share * area;
      weights += area;
    });
  });
  return weights > 0 ? sum / weights : 0;
}

/** Which families with one spot a photo shows: those that end later may end outside the picture. */
export interface ShownFamilies {
  readonly shown: Family;
  /** Families that go on beyond what the picture shows. */
  readonly orLonger: readonly Family[];
}

/** A strip must be seen in this part of all directions to tell whether an ink goes on. */
const LEAST_IN_FRAME = 0.12;
/** An ink goes on where so much of each part of the next strip has its colour. */
const GOES_ON = 0.5;
/** Parts of the next strip: papers end soon beyond their rings, on bosses that may be as dark as print. */
const PARTS = [
  [0.05, 0.15],
  [0.15, 0.5],
  [0.5, 0.95],
] as const;

/**
 * Tells faces of one look apart whose inner zones are the same, by whether their inks go on where the
 * shorter one ends. It looks no farther than this, so any face of the look may have been fitted.
 */
export function familiesShown(read: InkReader, state: CameraState): ShownFamilies {
  const face = FACES[state.face];
  const unit = innermostMm(face);
  const spot = state.spotCentresMm.reduce(
    (best, place, i) =>
      Math.hypot(...place) < Math.hypot(...state.spotCentresMm[best]!) ? i : best,
    0,
  );
  const single = singles(face.family);
  let current = single[0]!;
  for (const next of single.slice(1)) {
    let outside = false;
    let goesOn = true;
    for (const [inner, band] of stripsBeyond(current, next)) {
      for (const [from, to] of PARTS) {
        const width = band.reach - inner;
        const { share, inFrame } = read(
          state,
          spot,
          [(inner + from * width) * unit, (inner + to * width) * unit],
          band.ink,
          [0.85 * inner * unit, 0.97 * inner * unit],
        );
        if (inFrame < LEAST_IN_FRAME) outside = true;
        else if (share < GOES_ON) goesOn = false;
      }
    }
    if (!goesOn) break;
    if (outside) {
      return {
        shown: current.family,
        orLonger: single.slice(single.indexOf(next)).map(({ family }) => family),
      };
    }
    current = next;
  }
  return { shown: current.family, orLonger: [] };
}

/** Families of one spot with a family's look, the shortest first. */
export function singles(family: Family): FamilyLook[] {
  return lookOf(family)
    .families.filter(({ spots }) => spots.length === 1)
    .sort((a, b) => seenReach(a) - seenReach(b));
}

/** Strips of a longer face's inks beyond where a shorter one ends, each from its inner radius. */
function stripsBeyond(short: FamilyLook, long: FamilyLook) {
  const end = seenReach(short);
  return long.bands.slice(0, long.borders).flatMap((band, i) => {
    const inner = Math.max(end, long.bands[i - 1]?.reach ?? 0);
    return band.reach > inner ? [[inner, band] as const] : [];
  });
}

/** Radius of the innermost ink, the unit of looks. */
function innermostMm(face: Face): number {
  return face.zones[inkBands(face)[0]!.ring]!.outerRadiusMm;
}
