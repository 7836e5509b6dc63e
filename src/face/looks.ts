import { FACES, FAMILIES, type Face, type Family, type Ink } from './faces.ts';

/**
 * What faces look like in a photo, all of it derived from their entries: which inks follow one another
 * from the middle outward and where each ends, in radii of the innermost ink, because a photo does not
 * show millimetres.
 */

/** All that is printed in one ink before the next one begins. */
export interface InkBand {
  readonly ink: Ink;
  /** Outer radius, in radii of the innermost band. */
  readonly reach: number;
  /** Index into `ringRadiiMm` of its outer border. */
  readonly ring: number;
}

/** The bands of one spot, from the middle outward. */
export function inkBands(face: Face): InkBand[] {
  const borders = face.zones.flatMap((zone, ring) =>
    zone.ink === face.zones[ring - 1]?.ink ? [] : [{ zone, ring }],
  );
  borders.reverse();
  const unit = borders[0]!.zone.outerRadiusMm;
  return borders.map(({ zone, ring }) => ({
    ink: zone.ink,
    reach: zone.outerRadiusMm / unit,
    ring,
  }));
}

/** What the faces of a family look like. */
export interface FamilyLook {
  readonly family: Family;
  readonly bands: readonly InkBand[];
  /** How many bands, from the middle, end where it can be seen: the outermost white is as the paper. */
  readonly borders: number;
  /** Centres of the spots from the sheet's middle, in radii of the innermost ink. */
  readonly spots: readonly (readonly [number, number])[];
}

export function lookOfFamily(family: Family): FamilyLook {
  const face: Face = FACES[FAMILIES[family].usual];
  const bands = inkBands(face);
  const unit = face.zones[bands[0]!.ring]!.outerRadiusMm;
  return {
    family,
    bands,
    borders: bands.at(-1)!.ink === 'white' ? bands.length - 1 : bands.length,
    spots: face.spotCentresMm.map(([x, y]) => [x / unit, y / unit] as const),
  };
}

/** How far the bands of a family go whose ends can be seen, in radii of the innermost ink. */
export function seenReach({ bands, borders }: FamilyLook): number {
  return bands[borders - 1]!.reach;
}

/** Families whose inks follow one another alike; one may end where another goes on. */
export interface Look {
  /** From the middle outward, as far as any of them goes. */
  readonly inks: readonly Ink[];
  readonly families: readonly FamilyLook[];
}

/** Every look, in the order of the families. */
export const LOOKS: readonly Look[] = looksOf(
  (Object.keys(FAMILIES) as Family[]).map((family) => lookOfFamily(family)),
);

function looksOf(families: readonly FamilyLook[]): Look[] {
  const inksOf = ({ bands }: FamilyLook): Ink[] => bands.map(({ ink }) => ink);
  const beginsLike = (long: readonly Ink[], short: readonly Ink[]): boolean =>
    short.every((ink, i) => long[i] === ink);
  const longest = families.filter((family) =>
    families.every(
      (other) =>
        other === family ||
        !beginsLike(inksOf(other), inksOf(family)) ||
        // Of several that go as far, the first stands for all.
        (other.bands.length === family.bands.length &&
          families.indexOf(family) < families.indexOf(other)),
    ),
  );
  return longest.map((family) => ({
    inks: inksOf(family),
    families: families.filter((other) => beginsLike(inksOf(family), inksOf(other))),
  }));
}

/** The look of a family's faces. */
export function lookOf(family: Family): Look {
  return LOOKS.find((look) => look.families.some((member) => member.family === family))!;
}

/** How far the widest look goes, in radii of its innermost ink. */
export const WIDEST_REACH = Math.max(
  ...LOOKS.flatMap(({ families }) => families.map(({ bands }) => bands.at(-1)!.reach)),
);

/** Index of the spot nearest the middle of the sheet. */
export function middleSpot(face: Face): number {
  const from = face.spotCentresMm.map(([x, y]) => Math.hypot(x, y));
  return from.indexOf(Math.min(...from));
}
