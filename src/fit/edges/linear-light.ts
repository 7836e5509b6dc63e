/**
 * Linear light of an sRGB byte, 0 to 1 (IEC 61966-2-1). Blur mixes light, not bytes: an edge's
 * middle is where the light is half way, and in bytes it would seem to lie in the dark.
 */
export const LINEAR_LIGHT: Float64Array = Float64Array.from({ length: 256 }, (_, byte) => {
  const value = byte / 255;
  return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
});
