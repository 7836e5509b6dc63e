/**
 * Bare shafts within a plate of this size about the fletched centre can be trimmed with plunger and
 * nocking point; beyond it the arrow does not suit the bow (common practice, no published source).
 */
export interface Plate {
  readonly diameterMm: number;
  readonly atM: number;
}

export const PLATE: Plate = { diameterMm: 270, atM: 30 };

/** The plate's radius as an angle, so that it scales with distance. */
export function plateRadiusMrad(plate: Plate = PLATE): number {
  return plate.diameterMm / 2 / plate.atM;
}
