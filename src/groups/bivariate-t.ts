import student from '@stdlib/stats-base-dists-t';

/**
 * A round bivariate Student t: what is known of a point in the plane when the spread per axis is
 * itself estimated. Frame and unit are those of the centre.
 */
export interface BivariateT {
  readonly centre: readonly [number, number];
  /** Per axis; each coordinate is t with `df`, times this. */
  readonly scale: number;
  readonly df: number;
}

/** Probability that the point is within a radius of the centre; F(2, df) in closed form. */
export function massWithin(t: BivariateT, radius: number): number {
  return 1 - (1 + radius ** 2 / (t.df * t.scale ** 2)) ** (-t.df / 2);
}

/** Radius about the centre that holds a probability. */
export function radiusHolding(t: BivariateT, probability: number): number {
  return t.scale * Math.sqrt(t.df * ((1 - probability) ** (-2 / t.df) - 1));
}

/** Probability that a coordinate exceeds a value. */
export function massAbove(t: BivariateT, axis: 0 | 1, value: number): number {
  return student.cdf((t.centre[axis] - value) / t.scale, t.df);
}

/** Probability that the point is inside a disc anywhere in the plane, by quadrature to about 1e-4. */
export function massInDisc(
  t: BivariateT,
  disc: { readonly centre: readonly [number, number]; readonly radius: number },
  slices = 200,
): number {
  // Slices across the line of centres; along a slice the conditional law is a t with df + 1.
  const apart = Math.hypot(disc.centre[0] - t.centre[0], disc.centre[1] - t.centre[1]);
  let mass = 0;
  for (let i = 0; i < slices; i++) {
    // Sine spacing puts slices where the disc's edge is steep.
    const angle = ((i + 0.5) / slices - 0.5) * Math.PI;
    const across = disc.radius * Math.sin(angle);
    const half = disc.radius * Math.cos(angle);
    const u = (apart + across) / t.scale;
    const narrowing = t.scale * Math.sqrt((t.df + u ** 2) / (t.df + 1));
    const density = student.pdf(u, t.df) / t.scale;
    const inSlice = 2 * student.cdf(half / narrowing, t.df + 1) - 1;
    mass += density * inSlice * half * (Math.PI / slices);
  }
  return Math.min(1, mass);
}
