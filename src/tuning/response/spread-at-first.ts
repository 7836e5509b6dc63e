/**
 * Spread per axis of an archer of whom nothing is known, mrad: its median, and the standard deviation
 * of its log. Nineteen in twenty lie between 0.6 (the best) and 6.5 (the first weeks); own judgement.
 */
export const SPREAD_AT_FIRST = { medianMrad: 2, logSd: 0.6 } as const;

/**
 * The same as a scaled inverse chi-square, for the conjugate model: two degrees of freedom are
 * about as wide (0.64), and the mean of the log is then 0.29 above that of `sigmaMrad`.
 */
export const SPREAD_AT_FIRST_CONJUGATE = { sigmaMrad: 1.5, df: 2 } as const;
