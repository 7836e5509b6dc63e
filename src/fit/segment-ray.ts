/** One zone along a ray outward from the yellow, or what lies beyond the face. */
export interface ZoneModel {
  /** Names of the zones from the middle outward; the last one may be anything ('outside'). */
  readonly inks: readonly ('yellow' | 'red' | 'blue' | 'black' | 'white' | 'outside')[];
  /** For each zone, which later zones may follow it. */
  readonly next: readonly (readonly number[])[];
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

/** @param costs Per zone the cost of each colour, null for what may be anything. */
export function raySegmenter(
  model: ZoneModel,
  costs: readonly (Float32Array | null)[],
  longest: number,
): RaySegmenter {
  const zones = model.inks.length;
  const from = new Int8Array(longest * zones);
  const current = new Float64Array(zones);
  const next = new Float64Array(zones);
  // For each zone, the zones before it that it may follow, nearest the middle first.
  const before = model.inks.map((_, later) =>
    Int8Array.from(model.inks.keys()).filter((zone) => model.next[zone]!.includes(later)),
  );
  return {
    segment(colours, length) {
      current.fill(Infinity);
      current[0] = costs[0] ? costs[0][colours[0]!]! : OUTSIDE_COST;
      for (let i = 1; i < length; i++) {
        const colour = colours[i]!;
        for (let zone = 0; zone < zones; zone++) {
          let least = current[zone]!;
          let source = zone;
          const earlier = before[zone]!;
          for (let k = 0; k < earlier.length; k++) {
            const changed = current[earlier[k]!]! + CHANGE_COST;
            if (changed < least) {
              least = changed;
              source = earlier[k]!;
            }
          }
          const table = costs[zone];
          next[zone] = least + (table ? table[colour]! : OUTSIDE_COST);
          from[i * zones + zone] = source;
        }
        for (let zone = 0; zone < zones; zone++) current[zone] = next[zone]!;
      }
      let zone = 0;
      for (let z = 1; z < zones; z++) if (current[z]! < current[zone]!) zone = z;
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
