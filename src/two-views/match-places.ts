import { linearSumAssignment } from 'linear-sum-assignment';
import type { SpotMm } from '../face/coordinates.ts';
import { spread2, type Place } from './place.ts';

/** The same mark in both photos. */
export interface Match {
  readonly first: Place;
  readonly second: Place;
  /** Squared distance of the two over its variance per axis. */
  readonly chi2: number;
}

/** Beyond this many sigma two places are two marks. */
const GATE_SIGMA = 4;

/** What a pair is worth before its distance counts against it: arrows go to arrows first. */
const WORTH: Record<Place['what'], Record<Place['what'], number>> = {
  arrow: { arrow: 12, perhaps: 10.5, hole: 9.5 },
  perhaps: { arrow: 10.5, perhaps: 9, hole: 8 },
  hole: { arrow: 9.5, perhaps: 8, hole: 9 },
};

/** Pairs of places that are one mark: each place once, the nearest fit of all together. */
export function matchPlaces(
  first: readonly Place[],
  second: readonly Place[],
  toFirst: (mm: SpotMm) => SpotMm,
  turnSd: number,
): Match[] {
  const moved = second.map((place) => toFirst(place.mm));
  const chi2 = (i: number, j: number): number => {
    const [a, b] = [first[i]!, second[j]!];
    if (a.spot !== b.spot) return Infinity;
    const d2 = (a.mm[0] - moved[j]![0]) ** 2 + (a.mm[1] - moved[j]![1]) ** 2;
    return d2 / spread2(a, b, turnSd);
  };
  const near = (i: number, j: number) => chi2(i, j) < GATE_SIGMA ** 2;
  // Most places have no counterpart: the assignment is of those that have.
  const rows = first.flatMap((_, i) => (second.some((_, j) => near(i, j)) ? [i] : []));
  const columns = second.flatMap((_, j) => (rows.some((i) => near(i, j)) ? [j] : []));
  if (rows.length === 0) return [];
  const worth = rows.map((i) =>
    columns.map((j) => (near(i, j) ? WORTH[first[i]!.what][second[j]!.what] - chi2(i, j) / 2 : 0)),
  );
  const { rowAssignments } = linearSumAssignment(worth, { maximaze: true });
  return rows.flatMap((i, row): Match[] => {
    const j = columns[rowAssignments[row]!];
    if (j === undefined || !near(i, j)) return [];
    return [{ first: first[i]!, second: second[j]!, chi2: chi2(i, j) }];
  });
}
