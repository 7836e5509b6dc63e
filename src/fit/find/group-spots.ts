import type { PhotoPx } from '../../face/coordinates.ts';
import { FACES, type Family } from '../../face/faces.ts';
import { lookOf, lookOfFamily, type FamilyLook } from '../../face/looks.ts';
import { ellipseOf } from '../camera/conic.ts';
import { seatingsOf } from './seat-spots.ts';
import type { SpotCandidate } from './find-candidates.ts';
import type { FitOptions } from '../../request/fit-options.ts';

/** A face that was found in the photo, for a person to choose from. */
export interface FaceCandidate {
  readonly family: Family;
  /** Middle of the face, or of its spots. */
  readonly centrePx: PhotoPx;
  /** About how far its rings reach, px. */
  readonly radiusPx: number;
  /** Index of each spot in the list of spots found, in no order. */
  readonly spots: readonly number[];
  /** Share that was seen of the borders between inks, 0 to 1. */
  readonly support: number;
}

/** Whether so much of a candidate is seen that it may be wanted; of less there is often nothing there. */
export function isLikely({ support }: FaceCandidate, index: number): boolean {
  return index === 0 || support > 0.5;
}

/**
 * Groups spots into faces (those of one sheet are one) and sorts them: the one picked by a person
 * first, then those of the asked family, the large and central ones before the others.
 */
export function groupSpots(
  spots: readonly SpotCandidate[],
  photoSize: readonly [number, number],
  options: FitOptions,
): FaceCandidate[] {
  const asked = options.face === 'auto' ? null : FACES[options.face].family;
  const faces: FaceCandidate[] = [];
  const taken = new Set<number>();
  spots.forEach((spot, i) => {
    const sheet = [...(asked === null ? spot.families : [asked])]
      .map((family) => lookOfFamily(family))
      .find(({ spots: printed }) => printed.length > 1);
    if (taken.has(i) || !sheet) return;
    const fellows = spots
      .map((_, j) => j)
      .filter((j) => !taken.has(j) && areFellows(spot, spots[j]!, sheet))
      .sort((a, b) => apart(spot, spots[a]!) - apart(spot, spots[b]!))
      .slice(0, sheet.spots.length);
    const members = fellows.map((j) => spots[j]!);
    const own = asked === null ? sheetOf(members, sheet) : sheet;
    // What nobody said is one sheet may be faces beside one another, or a single spot close up.
    if (asked === null && !hangsAs(own, members, photoSize)) return;
    fellows.forEach((j) => taken.add(j));
    const { family, bands } = own;
    faces.push({
      family,
      centrePx: [meanOf(members, 0), meanOf(members, 1)],
      radiusPx: Math.max(...members.map((s) => s.innermostPx)) * bands.at(-1)!.reach,
      spots: fellows,
      support: members.reduce((sum, s) => sum + s.support, 0) / sheet.spots.length,
    });
  });
  spots.forEach((spot, i) => {
    if (taken.has(i)) return;
    const family = asked !== null && spot.families.includes(asked) ? asked : spot.families[0]!;
    faces.push({
      family,
      centrePx: spot.centrePx,
      radiusPx: spot.innermostPx * lookOfFamily(family).bands.at(-1)!.reach,
      spots: [i],
      support: spot.support,
    });
  });
  const [width, height] = photoSize;
  const merit = (face: FaceCandidate): number => {
    const offCentre =
      Math.hypot(face.centrePx[0] - width / 2, face.centrePx[1] - height / 2) /
      Math.hypot(width, height);
    // Faces of one look may be taken for one another, whatever was said; others are hardly wanted.
    const fits = asked === null || lookOf(face.family) === lookOf(asked) ? 1 : 0.1;
    // Of the innermost ink: how far a face goes on is told later.
    const size =
      Math.max(...face.spots.map((i) => spots[i]!.innermostPx)) * Math.sqrt(face.spots.length);
    return fits * size * face.support ** 2 * (1 - offCentre);
  };
  faces.sort((a, b) => merit(b) - merit(a));
  const pick = options.pick;
  if (pick) {
    const distance = (face: FaceCandidate): number =>
      Math.hypot(face.centrePx[0] - pick[0], face.centrePx[1] - pick[1]) / face.radiusPx;
    faces.sort((a, b) => distance(a) - distance(b));
  }
  return faces;
}

function apart(a: SpotCandidate, b: SpotCandidate): number {
  return Math.hypot(a.centrePx[0] - b.centrePx[0], a.centrePx[1] - b.centrePx[1]);
}

/** Spots of one sheet may differ so much in size, as a factor, by perspective. */
const ALIKE = 1.5;
/** Distances may be off by so much, as a factor. */
const NEAR = 1.18;

/** Spots of one sheet are alike in size and no farther apart than its outermost ones. */
function areFellows(a: SpotCandidate, b: SpotCandidate, sheet: FamilyLook): boolean {
  return (
    b.families.includes(sheet.family) &&
    Math.abs(Math.log(a.innermostPx / b.innermostPx)) < Math.log(ALIKE) &&
    apart(a, b) < NEAR * Math.max(...gapsOf(sheet.spots)) * Math.max(a.innermostPx, b.innermostPx)
  );
}

/** Of the sheets whose spots look like these, the one on which spots lie as far apart as they do. */
function sheetOf(members: readonly SpotCandidate[], sheet: FamilyLook): FamilyLook {
  const alike = lookOf(sheet.family).families.filter(
    ({ spots, bands }) =>
      spots.length === sheet.spots.length && bands.length === sheet.bands.length,
  );
  if (alike.length === 1 || members.length < sheet.spots.length) return sheet;
  const seen = gapsOf(members.map(({ centrePx }) => straightened(centrePx, members[0]!)));
  const misfit = ({ spots }: FamilyLook): number =>
    gapsOf(spots).reduce((sum, gap, i) => sum + Math.log(gap / seen[i]!) ** 2, 0);
  return alike.reduce((best, one) => (misfit(one) < misfit(best) ? one : best));
}

/** Sheets hang upright: turned farther, faces beside one another are likelier than a sheet of spots. */
const MOST_TURN = Math.PI / 6;

/** Whether spots lie as on a sheet that hangs upright and whose other spots are in the picture too. */
function hangsAs(
  sheet: FamilyLook,
  members: readonly SpotCandidate[],
  [width, height]: readonly [number, number],
): boolean {
  if (members.length < 2) return false;
  const [first] = members;
  const places = members.map(({ centrePx }) => {
    const [x, y] = straightened(centrePx, first!);
    return [x, -y] as const;
  });
  return seatingsOf(places, sheet.spots, 0).some(({ spots, turnRad, misfitMm }) => {
    const turn = Math.atan2(Math.sin(turnRad), Math.cos(turnRad));
    if (misfitMm > (NEAR - 1) * gapsOf(sheet.spots).at(-1)! || Math.abs(turn) > MOST_TURN) {
      return false;
    }
    const [x0, y0] = sheet.spots[spots[0]!]!;
    return sheet.spots.every(([x, y]) => {
      const [dx, dy] = [x - x0, y - y0];
      const [px, py] = unstraightened(
        [dx * Math.cos(turn) - dy * Math.sin(turn), -(dx * Math.sin(turn) + dy * Math.cos(turn))],
        first!,
      );
      return px > 0 && py > 0 && px < width && py < height;
    });
  });
}

/** Distances between all places, in rising order. */
function gapsOf(places: readonly (readonly [number, number])[]): number[] {
  return places
    .flatMap((a, i) => places.slice(i + 1).map((b) => Math.hypot(a[0] - b[0], a[1] - b[1])))
    .sort((a, b) => a - b);
}

/** A place as seen from straight before a spot, in radii of its innermost ink; y points down. */
function straightened([x, y]: PhotoPx, spot: SpotCandidate): readonly [number, number] {
  const { band, conic } = spot.borders[0]!;
  const { centre, semiAxes, angle } = ellipseOf(conic)!;
  const [dx, dy] = [x - centre[0], y - centre[1]];
  const reach = lookOfFamily(spot.families[0]!).bands[band]!.reach;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const along = (reach * (dx * cos + dy * sin)) / semiAxes[0];
  const across = (reach * (dy * cos - dx * sin)) / semiAxes[1];
  return [along * cos - across * sin, along * sin + across * cos];
}

/** The place in the photo that is straightened to one. */
function unstraightened([x, y]: readonly [number, number], spot: SpotCandidate): PhotoPx {
  const { band, conic } = spot.borders[0]!;
  const { centre, semiAxes, angle } = ellipseOf(conic)!;
  const reach = lookOfFamily(spot.families[0]!).bands[band]!.reach;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const along = ((x * cos + y * sin) * semiAxes[0]) / reach;
  const across = ((y * cos - x * sin) * semiAxes[1]) / reach;
  return [centre[0] + along * cos - across * sin, centre[1] + along * sin + across * cos];
}

function meanOf(spots: readonly SpotCandidate[], axis: 0 | 1): number {
  return spots.reduce((sum, spot) => sum + spot.centrePx[axis], 0) / spots.length;
}
