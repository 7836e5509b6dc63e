import type { CameraState } from './camera-state.ts';

/** Where up on the sheet is by gravity, as a photo tells it that a person took by hand. */
export interface GravityUp {
  /** Angle by which up is turned from the state's, counter-clockwise on the sheet, rad. */
  readonly turn: number;
  /** One standard deviation of a face that was hung, and a phone that was held, with care, rad. */
  readonly sd: number;
}

const degrees = (value: number): number => (value * Math.PI) / 180;

/** How far phones look down, and bosses lean back (0 to 15 degrees): common practice, no published source. */
const LOOKS_DOWN = { mean: degrees(5), sd: degrees(15) } as const;
const LEANS_BACK = { mean: degrees(5), sd: degrees(7) } as const;
/** How level phones are held and faces are hung, each one standard deviation. */
const LEVEL_SD = degrees(2.5);
const HUNG_SD = degrees(2.5);

/** How far down a phone may look, in steps that are tried. */
const STEEPEST = 60;

/**
 * Up on a sheet that a level phone looks at. The photo's vertical alone does not tell it: seen from
 * the side, a boss that leans back shows its up leaning away in the photo. How far the boss leans and
 * how far down the phone looks are tied by the face's normal, and weighed by what is usual.
 */
export function gravityUp({ rotation: r }: Pick<CameraState, 'rotation'>): GravityUp {
  let total = 0;
  let cosines = 0;
  let sines = 0;
  const places: { turn: number; weight: number }[] = [];
  for (let down = -STEEPEST; down <= STEEPEST; down++) {
    const pitch = degrees(down);
    // Up in the camera's frame: y points down in it, z along the optical axis.
    const [y, z] = [-Math.cos(pitch), -Math.sin(pitch)];
    const lean = Math.asin(Math.max(-1, Math.min(1, r[5]! * y + r[8]! * z)));
    const weight = Math.exp(
      -0.5 * ((pitch - LOOKS_DOWN.mean) / LOOKS_DOWN.sd) ** 2 -
        0.5 * ((lean - LEANS_BACK.mean) / LEANS_BACK.sd) ** 2,
    );
    const turn = Math.atan2(r[4]! * y + r[7]! * z, r[3]! * y + r[6]! * z) - Math.PI / 2;
    total += weight;
    cosines += weight * Math.cos(turn);
    sines += weight * Math.sin(turn);
    places.push({ turn, weight });
  }
  const turn = Math.atan2(sines, cosines);
  const spread = places.reduce((sum, place) => {
    const apart = Math.atan2(Math.sin(place.turn - turn), Math.cos(place.turn - turn));
    return sum + place.weight * apart * apart;
  }, 0);
  return { turn, sd: Math.hypot(Math.sqrt(spread / total), LEVEL_SD, HUNG_SD) };
}
