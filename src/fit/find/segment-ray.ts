import type { Ink } from '../../face/faces.ts';

/** One zone along a ray outward from the yellow, or what lies beyond the face. */
export interface ZoneModel {
  /** Names of the zones from the middle outward; the last one may be anything ('outside'). */
  readonly inks: readonly (Ink | 'outside')[];
  /** For each zone, the innermost zone that it may follow; those between may come before it too. */
  readonly after: readonly number[];
}

/** Cost of a colour of which nothing is known. */
const OUTSIDE_COST = 0.45;
/** What a change of zone costs, in pixels of wrong colour. */
const CHANGE_COST = 1.5;

/** Finds zones along rays of one model; made once for a photo's costs, it reuses its working room. */
export interface RaySegmenter {
  /**
   * The likeliest sequence of zones along a ray (least sum of ink costs, zones in order): for each
   * zone the sample at which it begins, -1 when the ray never enters it. Arrows, holes, lines and
   * numbers only cost their own pixels, so they do not end a zone.
   *
   * @param colours Colour indices outward from the middle; the first `length` count.
   */
  segment(colours: Uint16Array, length: number): number[];
}

/** @param costs Per zone the cost of each of `colours` colours, null for what may be anything. */
export function raySegmenter(
  model: ZoneModel,
  costs: readonly (Float32Array | null)[],
  colours: number,
  longest: number,
): RaySegmenter {
  const zones = model.inks.length;
  const after = Int32Array.from(model.after);
  // Colour by colour, so that what one sample costs in each zone lies side by side.
  const costAt = new Float32Array(colours * zones);
  for (let zone = 0; zone < zones; zone++) {
    const own = costs[zone];
    for (let colour = 0; colour < colours; colour++) {
      costAt[colour * zones + zone] = own ? own[colour]! : OUTSIDE_COST;
    }
  }
  const from = new Int8Array(longest * zones);
  const sums = new Float64Array(zones);
  return {
    segment(colours, length) {
      sums.fill(Infinity);
      sums[0] = costAt[colours[0]! * zones]!;
      for (let i = 1; i < length; i++) {
        const colour = colours[i]! * zones;
        // From the outermost in: the sums of those that a zone may follow are still the last sample's.
        for (let zone = zones - 1; zone >= 0; zone--) {
          let least = sums[zone]!;
          let source = zone;
          for (let earlier = after[zone]!; earlier < zone; earlier++) {
            const changed = sums[earlier]! + CHANGE_COST;
            if (changed < least) {
              least = changed;
              source = earlier;
            }
          }
          sums[zone] = least + costAt[colour + zone]!;
          from[i * zones + zone] = source;
        }
      }
      let zone = 0;
      for (let z = 1; z < zones; z++) if (sums[z]! < sums[zone]!) zone = z;
      const begins = new Array<number>(zones).fill(-1);
      for (let i = length - 1; i >= 0; i--) {
        const source = i === 0 ? zone : from[i * zones + zone]!;
        if (source !== zone || i === 0) begins[zone] = i;
        zone = source;
      }
      return begins;
    },
  };
}
