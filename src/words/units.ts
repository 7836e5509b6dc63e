/** What lengths on the face, shooting distances and masses of points are written in. */
export interface Units {
  readonly length: 'mm' | 'in';
  readonly distance: 'm' | 'yd';
  readonly mass: 'grain' | 'g';
}

/** Points are weighed in grains everywhere (common practice, no published source). */
export const METRIC: Units = { length: 'mm', distance: 'm', mass: 'grain' };

/** An inch is 25.4 mm and a yard 0.9144 m exactly (international yard and pound agreement, 1959). */
export const MM_AN_INCH = 25.4;
export const M_A_YARD = 0.9144;
/** A grain is 64.79891 mg exactly (same agreement). */
export const GRAINS_A_GRAM = 1000 / 64.79891;

/** One of a unit in that of the same quantity that is written in its place; 1 where none is. */
export function writtenAs(
  unit: string,
  units: Units,
): { readonly unit: string; readonly per: number } {
  if (unit === 'mm' && units.length === 'in') return { unit: 'in', per: 1 / MM_AN_INCH };
  if (unit === 'm' && units.distance === 'yd') return { unit: 'yd', per: 1 / M_A_YARD };
  if (unit === 'grain' && units.mass === 'g') return { unit: 'g', per: 1 / GRAINS_A_GRAM };
  return { unit, per: 1 };
}
