import type { PhotoPx } from '../../face/coordinates.ts';
import { FACES, type Face } from '../../face/faces.ts';
import type { SpotCandidate } from './find-candidates.ts';
import type { FitOptions } from '../../request/fit-options.ts';

/** A face that was found in the photo, for a person to choose from. */
export interface FaceCandidate {
  readonly family: Face['family'];
  /** Middle of the face, or of its spots. */
  readonly centrePx: PhotoPx;
  /** About how far its rings reach, px. */
  readonly radiusPx: number;
  /** Index of each spot in the list of spots found, in no order. */
  readonly spots: readonly number[];
  /** Share that was seen of the borders between inks, 0 to 1. */
  readonly support: number;
}

/** Radius of the outermost ring over that of the yellow. */
const REACH: Record<Face['family'], number> = {
  'ten-ring': 5,
  'six-ring': 3,
  triple: 2.5,
  field: 5,
};

/** Whether so much of a candidate is seen that it may be wanted; of less there is often nothing there. */
export function isLikely({ support }: FaceCandidate, index: number): boolean {
  return index === 0 || support > 0.5;
}

/**
 * Groups spots into faces (three of a triple are one) and sorts them: the one picked by a person
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
  if (asked === null || asked === 'triple') {
    spots.forEach((spot, i) => {
      if (taken.has(i) || !(asked === 'triple' || spot.families[0] === 'triple')) return;
      const fellows = spots
        .map((_, j) => j)
        .filter((j) => !taken.has(j) && areFellows(spot, spots[j]!))
        .sort((a, b) => apart(spot, spots[a]!) - apart(spot, spots[b]!))
        .slice(0, 3);
      fellows.forEach((j) => taken.add(j));
      const members = fellows.map((j) => spots[j]!);
      faces.push({
        family: 'triple',
        centrePx: [meanOf(members, 0), meanOf(members, 1)],
        radiusPx: Math.max(...members.map((s) => s.yellowPx)) * REACH.triple,
        spots: fellows,
        support: members.reduce((sum, s) => sum + s.support, 0) / 3,
      });
    });
  }
  spots.forEach((spot, i) => {
    if (taken.has(i)) return;
    const family = asked !== null && spot.families.includes(asked) ? asked : spot.families[0]!;
    faces.push({
      family,
      centrePx: spot.centrePx,
      radiusPx: spot.yellowPx * REACH[family],
      spots: [i],
      support: spot.support,
    });
  });
  const [width, height] = photoSize;
  const merit = (face: FaceCandidate): number => {
    const offCentre =
      Math.hypot(face.centrePx[0] - width / 2, face.centrePx[1] - height / 2) /
      Math.hypot(width, height);
    const fits = asked === null || face.family === asked ? 1 : 0.1;
    const size = face.radiusPx * Math.sqrt(face.spots.length);
    return fits * size * face.support * (1 - offCentre);
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

/** Spots of one sheet are alike in size and at most two spacings (11 yellow radii) apart. */
function areFellows(a: SpotCandidate, b: SpotCandidate): boolean {
  return (
    Math.abs(Math.log(a.yellowPx / b.yellowPx)) < Math.log(1.5) &&
    apart(a, b) < 13 * Math.max(a.yellowPx, b.yellowPx)
  );
}

function meanOf(spots: readonly SpotCandidate[], axis: 0 | 1): number {
  return spots.reduce((sum, spot) => sum + spot.centrePx[axis], 0) / spots.length;
}
