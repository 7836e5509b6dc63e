import type { SpotMm } from './coordinates.ts';
import type { Face } from './faces.ts';

export interface ZoneCall {
  /** 0 is a miss. */
  readonly value: number;
  /** True inside the inner-ten ring, by the same touching rule. */
  readonly inner: boolean;
  /** How far the shaft's inner edge is inside (positive) the nearest line's outer edge, mm. */
  readonly marginMm: number;
}

/**
 * The value of an arrow by the line rule: a shaft that touches a dividing line counts the higher
 * zone, and the line lies inside that zone, so the zone is the highest whose outer radius is at
 * least the distance of the shaft's axis from the centre less half the shaft.
 */
export function zoneAt(face: Face, mm: SpotMm, shaftMm: number): ZoneCall {
  const innerEdgeMm = Math.hypot(mm[0], mm[1]) - shaftMm / 2;
  let value = 0;
  let marginMm = Infinity;
  for (const zone of face.zones) {
    const inside = zone.outerRadiusMm - innerEdgeMm;
    if (inside >= 0) value = Math.max(value, zone.value);
    if (Math.abs(inside) < Math.abs(marginMm)) marginMm = inside;
  }
  const inner = face.innerRadiusMm !== null && innerEdgeMm <= face.innerRadiusMm;
  return { value, inner, marginMm };
}
