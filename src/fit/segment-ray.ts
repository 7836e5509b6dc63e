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

/**
 * The likeliest sequence of zones along a ray (least sum of ink costs, zones in order). Returns for
 * each zone the sample at which it begins, -1 when the ray never enters it. Arrows, holes, lines
 * and numbers only cost their own pixels, so they do not end a zone.
 */
export function segmentRay(
  colours: Uint16Array,
  length: number,
  costs: readonly (Float32Array | null)[],
  model: ZoneModel,
): { begins: number[]; cost: number } {
  const zones = model.inks.length;
  const from = new Int8Array(length * zones);
  let current = new Float64Array(zones).fill(Infinity);
  let next = new Float64Array(zones);
  current[0] = 0;
  for (let i = 0; i < length; i++) {
    next.fill(Infinity);
    for (let zone = 0; zone < zones; zone++) {
      const reached = current[zone]!;
      if (reached === Infinity) continue;
      if (reached < next[zone]!) {
        next[zone] = reached;
        from[i * zones + zone] = zone;
      }
      if (i === 0) continue;
      for (const later of model.next[zone]!) {
        if (reached + CHANGE_COST < next[later]!) {
          next[later] = reached + CHANGE_COST;
          from[i * zones + later] = zone;
        }
      }
    }
    for (let zone = 0; zone < zones; zone++) {
      const table = costs[zone];
      next[zone]! += table ? table[colours[i]!]! : OUTSIDE_COST;
    }
    [current, next] = [next, current];
  }
  let zone = 0;
  for (let z = 1; z < zones; z++) if (current[z]! < current[zone]!) zone = z;
  const cost = current[zone]!;
  const begins = new Array<number>(zones).fill(-1);
  for (let i = length - 1; i >= 0; i--) {
    const before = from[i * zones + zone]!;
    if (before !== zone || i === 0) begins[zone] = i;
    zone = before;
  }
  return { begins, cost };
}
