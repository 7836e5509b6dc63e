import { inverse, Matrix } from 'ml-matrix';
import quickselect from 'quickselect';

/** One shot: which arrow, in which end, and where it lies, along any number of axes. */
export interface Shot {
  readonly end: string;
  readonly arrow: string;
  readonly at: readonly number[];
}

/** A weighted sum of arrows' places whose weights sum to zero, along each axis. */
export interface Contrast {
  readonly mean: readonly number[];
  /** Variance of each of these, in units of that of a shot. */
  readonly variance: number;
}

/** What shots say of the arrows' places beside one another, whatever the aim of each end. */
export interface WithinEnds {
  /** In the order in which they first come. */
  readonly arrows: readonly string[];
  /** Shots of each arrow that lie in an end with another arrow: others tell nothing. */
  readonly shots: readonly number[];
  /** Which arrows can be compared, over shared ends and other arrows: same number, same part. */
  readonly part: readonly number[];
  /** Sum of squares about the fitted places, all axes together, and its degrees of freedom per axis. */
  readonly squares: number;
  readonly df: number;
  /** How many ends tell something. */
  readonly ends: number;
  /** @param weights one for each arrow; those of every part sum to zero */
  contrast(weights: readonly number[]): Contrast;
}

/**
 * Least squares of `place = centre of its end + place of its arrow + chance`, where arrows are missing
 * from ends as they please: the intra-block analysis of an incomplete block design, with ends as
 * blocks and arrows as treatments (Yates 1936; John and Williams, Cyclic and Computer Generated Designs,
 * from memory). The ends' centres are worked out with the places, so that which arrows shared an
 * end counts for the centre of that end, and errors that an end's arrows share cost what they cost.
 */
export function withinEnds(all: readonly Shot[]): WithinEnds {
  const design = designOf(all);
  return toldBy(design, fitOf(design, placesOf(design)));
}

/**
 * The same, where a shot that flew wild neither moves its arrow much nor makes the others look wider than they
 * are: what lies farther out than WILD_FROM is taken for as far out as that, until the fit rests. All is
 * scaled up by what that takes from usual shots on average, so that sums of squares and tests are those of
 * least squares again (Huber's pseudo-observations: Robust Statistics, 1981, section 7.6, from memory).
 */
export function steadyWithinEnds(all: readonly Shot[]): WithinEnds {
  const design = designOf(all);
  let at = placesOf(design);
  let fit = fitOf(design, at);
  const places = at;
  for (let round = 0; round < ROUNDS; round++) {
    const sigma = sigmaOf(design, places, fit);
    if (!(sigma > 0)) break;
    const edge = WILD_FROM * sigma;
    // Of a pull on the radius alone, over both axes: 1 within the edge, half of edge over radius beyond it.
    let slope = 0;
    const pulled = places.map((place, i) => {
      const fitted = fit.fitted[i]!;
      const off = place.map((one, axis) => one - fitted[axis]!);
      const share = Math.min(1, edge / Math.hypot(...off));
      slope += (share < 1 ? share / 2 : 1) / places.length;
      return { fitted, off, share };
    });
    const next = pulled.map(({ fitted, off, share }) =>
      off.map((one, axis) => fitted[axis]! + (share / slope) * one),
    );
    const moved = Math.max(...next.flatMap((one, i) => one.map((x, axis) => Math.abs(x - at[i]![axis]!)))); // prettier-ignore
    at = next;
    fit = fitOf(design, at);
    if (moved < AT_REST * sigma) break;
  }
  return toldBy(design, fit);
}

/** In spreads per axis: of usual shots one in twenty-three lies farther out. */
const WILD_FROM = 2.5;
const ROUNDS = 30;
/** In spreads: less than that changes nothing that anybody sees. */
const AT_REST = 0.01;
/** Median distance of a round normal law from its centre, in standard deviations per axis. */
const MEDIAN_RADIUS = Math.sqrt(2 * Math.LN2);

/** The spread that the middle shot tells, which no wild one moves. */
function sigmaOf({ df }: Design, places: readonly (readonly number[])[], { fitted }: Fit): number {
  const radii = places.map((place, i) =>
    Math.hypot(...place.map((one, axis) => one - fitted[i]![axis]!)),
  );
  if (df <= 0 || radii.length === 0) return 0;
  const middle = Math.floor(radii.length / 2);
  quickselect(radii, middle);
  return (radii[middle]! / MEDIAN_RADIUS) * Math.sqrt(radii.length / df);
}

interface Design {
  readonly ends: readonly (readonly Shot[])[];
  readonly arrows: readonly string[];
  readonly axes: number;
  readonly part: readonly number[];
  readonly shots: readonly number[];
  /** Of the arrows' places, each part's sum held at zero, in units of a shot's variance. */
  readonly covariance: Matrix;
  readonly df: number;
  readonly placeOf: ReadonlyMap<string, number>;
}

function designOf(all: readonly Shot[]): Design {
  const ofEnd = new Map<string, Shot[]>();
  for (const shot of all) ofEnd.set(shot.end, [...(ofEnd.get(shot.end) ?? []), shot]);
  const ends = [...ofEnd.values()].filter((shots) => new Set(shots.map((s) => s.arrow)).size > 1);
  const arrows = [...new Set(all.map(({ arrow }) => arrow))];
  const placeOf = new Map(arrows.map((arrow, i) => [arrow, i]));
  const part = partsOf(
    arrows.length,
    ends.map((shots) => shots.map(({ arrow }) => placeOf.get(arrow)!)),
  );
  // Normal equations of the places once the ends' centres are taken out of them.
  const held = Matrix.zeros(arrows.length, arrows.length);
  const shots = arrows.map(() => 0);
  for (const end of ends) {
    for (const shot of end) {
      const i = placeOf.get(shot.arrow)!;
      shots[i]!++;
      held.set(i, i, held.get(i, i) + 1);
      for (const other of end) {
        const j = placeOf.get(other.arrow)!;
        held.set(i, j, held.get(i, j) - 1 / end.length);
      }
    }
  }
  // A place is known but for its part's level: holding each part's sum at zero leaves contrasts alone.
  for (let i = 0; i < arrows.length; i++)
    for (let j = 0; j < arrows.length; j++)
      if (part[i] === part[j]) held.set(i, j, held.get(i, j) + 1);
  const count = shots.reduce((sum, own) => sum + own, 0);
  return {
    ends,
    arrows,
    axes: all[0]?.at.length ?? 0,
    part,
    shots,
    covariance: arrows.length === 0 ? held : inverse(held),
    df: count - ends.length - (arrows.length - new Set(part).size),
    placeOf,
  };
}

/** Where the shots lie, end by end. */
function placesOf({ ends }: Design): (readonly number[])[] {
  return ends.flatMap((end) => end.map(({ at }) => at));
}

interface Fit {
  readonly places: Matrix;
  readonly squares: number;
  /** By shot, end by end. */
  readonly fitted: readonly (readonly number[])[];
}

/** @param at where the shots lie, end by end */
function fitOf(
  { ends, arrows, axes, covariance, placeOf }: Design,
  at: readonly (readonly number[])[],
): Fit {
  const right = Matrix.zeros(arrows.length, Math.max(1, axes));
  let [next, squares] = [0, 0];
  const centred = ends.map((end) => {
    const own = end.map(() => at[next++]!);
    const mean = Array.from(
      { length: axes },
      (_, axis) => own.reduce((sum, place) => sum + place[axis]!, 0) / end.length,
    );
    end.forEach((shot, k) => {
      const i = placeOf.get(shot.arrow)!;
      mean.forEach((centre, axis) => {
        const off = own[k]![axis]! - centre;
        right.set(i, axis, right.get(i, axis) + off);
        squares += off ** 2;
      });
    });
    return mean;
  });
  const places = covariance.mmul(right);
  const explained = arrows.length === 0 ? 0 : places.clone().mul(right).sum();
  const fitted = ends.flatMap((end, e) => {
    const rows = end.map(({ arrow }) => placeOf.get(arrow)!);
    return rows.map((i) =>
      centred[e]!.map((centre, axis) => {
        const ofArrows = rows.reduce((sum, j) => sum + places.get(j, axis), 0) / rows.length;
        return centre - ofArrows + places.get(i, axis);
      }),
    );
  });
  return { places, squares: Math.max(0, squares - explained), fitted };
}

function toldBy(
  { ends, arrows, axes, part, shots, covariance, df }: Design,
  { places, squares }: Fit,
): WithinEnds {
  return {
    arrows,
    shots,
    part,
    squares,
    df,
    ends: ends.length,
    contrast: (weights) => {
      const row = Matrix.rowVector([...weights]);
      return {
        mean: Array.from({ length: axes }, (_, axis) => row.mmul(places).get(0, axis)),
        variance: row.mmul(covariance).mmul(row.transpose()).get(0, 0),
      };
    },
  };
}

/** Numbers the parts of a graph whose nodes are joined where they stand in one list. */
function partsOf(nodes: number, lists: readonly (readonly number[])[]): number[] {
  const part = Array.from({ length: nodes }, (_, i) => i);
  for (const list of lists) {
    const joined = new Set(list.map((i) => part[i]!));
    const least = Math.min(...joined);
    part.forEach((own, i) => {
      if (joined.has(own)) part[i] = least;
    });
  }
  return part;
}
