import { inverse, Matrix } from 'ml-matrix';

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
  const ofEnd = new Map<string, Shot[]>();
  for (const shot of all) ofEnd.set(shot.end, [...(ofEnd.get(shot.end) ?? []), shot]);
  const ends = [...ofEnd.values()].filter((shots) => new Set(shots.map((s) => s.arrow)).size > 1);
  const arrows = [...new Set(all.map(({ arrow }) => arrow))];
  const at = new Map(arrows.map((arrow, i) => [arrow, i]));
  const axes = all[0]?.at.length ?? 0;
  const part = partsOf(
    arrows.length,
    ends.map((shots) => shots.map(({ arrow }) => at.get(arrow)!)),
  );

  // Normal equations of the places once the ends' centres are taken out of them.
  const left = Matrix.zeros(arrows.length, arrows.length);
  const right = Matrix.zeros(arrows.length, Math.max(1, axes));
  const shots = arrows.map(() => 0);
  let [count, squares] = [0, 0];
  for (const end of ends) {
    const mean = Array.from(
      { length: axes },
      (_, axis) => end.reduce((sum, shot) => sum + shot.at[axis]!, 0) / end.length,
    );
    for (const shot of end) {
      const i = at.get(shot.arrow)!;
      shots[i]!++;
      count++;
      left.set(i, i, left.get(i, i) + 1);
      for (const other of end) {
        const j = at.get(other.arrow)!;
        left.set(i, j, left.get(i, j) - 1 / end.length);
      }
      mean.forEach((centre, axis) => {
        const off = shot.at[axis]! - centre;
        right.set(i, axis, right.get(i, axis) + off);
        squares += off ** 2;
      });
    }
  }
  // A place is known but for its part's level: holding each part's sum at zero leaves contrasts alone.
  const held = left.clone();
  for (let i = 0; i < arrows.length; i++)
    for (let j = 0; j < arrows.length; j++)
      if (part[i] === part[j]) held.set(i, j, held.get(i, j) + 1);
  const covariance = arrows.length === 0 ? held : inverse(held);
  const places = covariance.mmul(right);
  const fitted = arrows.length === 0 ? 0 : places.clone().mul(right).sum();
  const parts = new Set(part).size;
  return {
    arrows,
    shots,
    part,
    squares: Math.max(0, squares - fitted),
    df: count - ends.length - (arrows.length - parts),
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
