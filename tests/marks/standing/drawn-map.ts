import type { ShaftMap } from '../../../src/marks/standing/shaft-map.ts';

/** A straight piece of a shaft on a map, cells. */
export interface DrawnStrip {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  /** Stretches, in cells from the start, where nothing is seen. */
  readonly gaps?: readonly (readonly [number, number])[];
  /** Width at its far end, in widths of its start. @default 1 */
  readonly widening?: number;
}

/** A square map of strips that start as wide as a shaft. */
export function drawnMap(strips: readonly DrawnStrip[], side: number, shaft: number): ShaftMap {
  const covered = new Float32Array(side * side);
  for (const { from, to, gaps = [], widening = 1 } of strips) {
    const long = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const [ux, uy] = [(to[0] - from[0]) / long, (to[1] - from[1]) / long];
    for (let y = 0; y < side; y++) {
      for (let x = 0; x < side; x++) {
        const ahead = (x + 0.5 - from[0]) * ux + (y + 0.5 - from[1]) * uy;
        const beside = Math.abs((x + 0.5 - from[0]) * uy - (y + 0.5 - from[1]) * ux);
        const wide = shaft * (1 + ((widening - 1) * Math.max(0, ahead)) / long);
        if (ahead < -shaft / 2 || ahead > long || beside > wide / 2) continue;
        if (gaps.some(([a, b]) => ahead > a && ahead < b)) continue;
        covered[y * side + x] = 1;
      }
    }
  }
  return {
    width: side,
    height: side,
    pxPerCell: 2,
    shaft,
    covered,
    part: 1,
    entry: null,
    vane: null,
    seen: new Uint8Array(side * side).fill(1),
  };
}
