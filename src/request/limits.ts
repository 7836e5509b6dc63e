/** What is believed of a person who says it, once for the command line, files, the server and the page. */

/** Thinnest and thickest shafts in use, mm, with room for odd rounds (4 to 11 mm). */
export const SHAFT_MM = { min: 3, max: 12 } as const;

/** From a bale in the garage to beyond the longest round (90 m), m. */
export const DISTANCE_M = { min: 2, max: 120 } as const;

/** Arrows of one kind on one face: a whole 72-arrow round that nobody drew. */
export const ARROWS_OF_A_KIND = 72;
