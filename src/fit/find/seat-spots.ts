type Place = readonly [number, number];

/** Which spot of a sheet each of the found ones is. */
export interface Seating {
  /** Index of the spot, for each place. */
  readonly spots: readonly number[];
  /** Turn of the sheet, counter-clockwise, that brings its spots to where they were found, rad. */
  readonly turnRad: number;
  /** Distance of a place from its spot's, at most. */
  readonly misfitMm: number;
}

/**
 * Ways in which spots that were found may be those of a sheet, one for each set of its spots that fits:
 * a sheet that is turned onto itself looks the same, so the way with the least turn stands for all.
 *
 * @param places Found spots from the centre of one of them, on a sheet whose turn is not known, mm.
 * @param printed Centres of the sheet's spots, mm; no fewer than places.
 * @param reference Index of the place from which all are measured.
 */
export function seatingsOf(
  places: readonly Place[],
  printed: readonly Place[],
  reference: number,
): Seating[] {
  const farthest = places.reduce(
    (best, place, i) => (Math.hypot(...place) >= Math.hypot(...places[best]!) ? i : best),
    0,
  );
  const bySet = new Map<string, Seating[]>();
  for (const spots of choices(places.length, printed.length)) {
    const to = spots.map((spot) => minus(printed[spot]!, printed[spots[reference]!]!));
    const turnRad = turnBetween(to[farthest]!, places[farthest]!);
    const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)];
    const misfitMm = Math.max(
      ...places.map(([x, y], i) =>
        Math.hypot(x * cos + y * sin - to[i]![0], y * cos - x * sin - to[i]![1]),
      ),
    );
    const key = [...spots].sort((a, b) => a - b).join();
    bySet.set(key, [...(bySet.get(key) ?? []), { spots, turnRad, misfitMm }]);
  }
  const mostMm = leastGap(printed) / 2;
  const ways = [...bySet.values()].map((set) => leastTurned(set, mostMm));
  const fitting = ways.filter(({ misfitMm }) => misfitMm < mostMm);
  if (fitting.length > 0) return fitting;
  return [ways.reduce((best, way) => (way.misfitMm < best.misfitMm ? way : best))];
}

/** The one turned least of those that fit, of all where none does. */
function leastTurned(seatings: readonly Seating[], mostMm: number): Seating {
  const fitting = seatings.filter(({ misfitMm }) => misfitMm < mostMm);
  const turnOf = ({ turnRad }: Seating): number => Math.abs(Math.sin(turnRad / 2));
  return (fitting.length > 0 ? fitting : seatings).reduce((best, one) =>
    turnOf(one) < turnOf(best) ? one : best,
  );
}

/** Angle from one direction to another, rad; 0 from none. */
function turnBetween(from: Place, to: Place): number {
  if (Math.hypot(...from) === 0) return 0;
  // From the upper one of a direction and its opposite, so that rows up and down turn alike.
  const upward = from[1] < 0 || (from[1] === 0 && from[0] < 0) ? -1 : 1;
  const axis = Math.atan2(to[1], to[0]) + (upward < 0 ? Math.PI : 0);
  return axis - Math.atan2(upward * from[1], upward * from[0]);
}

function minus(a: Place, b: Place): Place {
  return [a[0] - b[0], a[1] - b[1]];
}

/** Every way to choose `count` of the numbers below `of`, in every order. */
function choices(count: number, of: number): number[][] {
  if (count === 0) return [[]];
  const rest = choices(count - 1, of);
  return Array.from({ length: of }, (_, first) =>
    rest.filter((others) => !others.includes(first)).map((others) => [first, ...others]),
  ).flat();
}

function leastGap(places: readonly Place[]): number {
  return Math.min(
    ...places.flatMap((a, i) =>
      places.slice(i + 1).map((b) => Math.hypot(a[0] - b[0], a[1] - b[1])),
    ),
  );
}
