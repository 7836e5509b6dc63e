import type { Ellipse } from '../camera/conic.ts';

/** Sectors of all directions in which places are counted. */
const SECTORS = 24;

/**
 * In how many sectors about an ellipse's own centre, and in its own measure, places on it lie, as a part of the
 * sectors of rays that saw them, at most 1. Rays from outside a ring meet it all on one side of it, however many
 * they are.
 *
 * @param places Where each of some rays met the ellipse.
 * @param rays Number of all rays, cast evenly in all directions.
 */
export function spreadAround(
  { centre: [x, y], semiAxes: [a, b], angle }: Ellipse,
  places: readonly { readonly ray: number; readonly point: readonly [number, number] }[],
  rays: number,
): number {
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const ofRays = new Set(places.map(({ ray }) => Math.floor((ray * SECTORS) / rays)));
  const own = new Set(
    places.map(({ point }) => {
      const [dx, dy] = [point[0] - x, point[1] - y];
      const turn = Math.atan2((dy * cos - dx * sin) / b, (dx * cos + dy * sin) / a);
      return Math.floor((0.5 + turn / (2 * Math.PI)) * SECTORS) % SECTORS;
    }),
  );
  return Math.min(1, own.size / ofRays.size);
}
