/** What units in which people write numbers are in the first of them, by their names in small letters. */
export type Units = Readonly<Record<string, number>>;

/** An inch is 25.4 mm exactly (international yard and pound agreement, 1959). */
export const LENGTHS: Units = { mm: 1, cm: 10, in: 25.4, inch: 25.4, inches: 25.4, '"': 25.4 };
/** As draw weights are written; a kilogram is 1/0.45359237 pounds (same agreement). */
export const WEIGHTS: Units = { lb: 1, lbs: 1, '#': 1, kg: 2.205 };
/** A pound has 7000 grains, so a gram 15.43. */
export const MASSES: Units = { grain: 1, gr: 1, grains: 1, g: 15.43 };
/** Of a thread. */
export const TURNS: Units = { turns: 1, turn: 1 };
/** Grades and figures that have no unit. */
export const PLAIN: Units = {};

/** How many of a set's first units one of a unit is: 1 where none is written, null where it is unknown. */
export function factorOf(unit: string, units: Units): number | null {
  const written = unit.trim().toLowerCase();
  if (written === '') return 1;
  return Object.hasOwn(units, written) ? units[written]! : null;
}
