/** Largest photo that is decoded; phones stay below this outside their "full resolution" modes. */
export const MAX_PIXELS = 50_000_000;

/** Largest file that is opened. A 50 MP JPEG at top quality stays below half of this. */
export const MAX_FILE_BYTES = 64 * 1024 * 1024;

/** Longest time one decode may take. */
export const MAX_DECODE_SECONDS = 20;
