/** A common thickness of outdoor shafts, where nobody said (common practice, no published source). */
export const ASSUMED_SHAFT_MM = 5.5;
