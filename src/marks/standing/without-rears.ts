import type { SpotMm } from '../../face/coordinates.ts';
import { likeliestOf } from '../candidates/likeliest-of.ts';
import { widening, type ArrowGeometry } from './arrow-geometry.ts';

/** What tells an arrow from the rear end of another. */
interface Seen {
  readonly spot: number;
  readonly mm: SpotMm;
  readonly probability: number;
  /** Unit vector of its image, from the entry, and how far that is seen, mm. */
  readonly along: readonly [number, number];
  readonly lengthMm: number;
  /** Whether its image goes on where the picture ends. */
  readonly runsOut: boolean;
}

/** Parts of an arrow's image behind which what starts on its middle line, or at its vanes, may be its rear. */
const ON_LINE = { from: 0.25, widths: 0.75 } as const;
const AT_VANES = { from: 0.4, widths: 2 } as const;
/** Shorter images, in shafts, are of arrows seen almost end on, which groups are as wide as. */
const LEAST_LENGTH = 12;
/** Largest angle between an arrow's image and what starts at its rear end. */
const MOST_TURN = (20 * Math.PI) / 180;

/**
 * Leaves out what seems to enter where the rear end of another is seen: wraps and vanes begin anew. An
 * arrow that entered there would stand out as far as the other and end farther on, by as much as it
 * starts farther on; a rear end ends where its arrow does.
 */
export function withoutRears<T extends Seen>(
  arrows: readonly T[],
  geometry: ArrowGeometry,
  shaftMm: number,
): T[] {
  return likeliestOf(arrows, (one, other) => isRearOf(one, other, geometry, shaftMm));
}

function isRearOf(
  one: Seen,
  { spot, mm, along, lengthMm, runsOut }: Seen,
  geometry: ArrowGeometry,
  shaftMm: number,
): boolean {
  // Where the picture ends nothing tells how far an arrow went on.
  if (one.spot !== spot || runsOut || one.runsOut) return false;
  if (lengthMm < LEAST_LENGTH * shaftMm) return false;
  const [x, y] = [one.mm[0] - mm[0], one.mm[1] - mm[1]];
  const ahead = x * along[0] + y * along[1];
  const part = ahead / lengthMm;
  if (part < ON_LINE.from || part > 1) return false;
  const { widths } = part < AT_VANES.from ? ON_LINE : AT_VANES;
  const widthMm = shaftMm * (1 + (widening(geometry) - 1) * part);
  if (Math.abs(x * along[1] - y * along[0]) > widths * widthMm) return false;
  const turn = along[0] * one.along[0] + along[1] * one.along[1];
  return turn > Math.cos(MOST_TURN) && ahead + one.lengthMm * turn < lengthMm + ahead / 2;
}
