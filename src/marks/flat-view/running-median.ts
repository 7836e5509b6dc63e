/**
 * Median of the values within `reach` places either side, on a closed ring of bytes; places whose
 * `known` is 0 do not count, and where none counts the value itself is returned.
 */
export function runningMedian(
  values: Uint8Array,
  known: Uint8Array,
  length: number,
  reach: number,
  out: Uint8Array,
): void {
  const counts = new Int32Array(256);
  const window = Math.min(length, 2 * reach + 1);
  let total = 0;
  const start = window === length ? 0 : length - reach;
  for (let i = 0; i < window; i++) {
    const j = (start + i) % length;
    if (!known[j]) continue;
    counts[values[j]!]!++;
    total++;
  }
  let median = 0;
  /** Values counted below `median`. */
  let below = 0;
  let leaving = (length - reach) % length;
  let entering = reach + 1;
  for (let i = 0; i < length; i++) {
    if (i > 0 && window < length) {
      // The sign of a difference counts what is below the median: a branch would be guessed wrong often.
      if (known[leaving]) {
        const v = values[leaving]!;
        counts[v]!--;
        total--;
        below += (v - median) >> 31;
      }
      if (known[entering]) {
        const v = values[entering]!;
        counts[v]!++;
        total++;
        below -= (v - median) >> 31;
      }
      if (++leaving === length) leaving = 0;
      if (++entering === length) entering = 0;
    }
    if (total === 0) {
      out[i] = values[i]!;
      continue;
    }
    const half = total >> 1;
    while (below > half) below -= counts[--median]!;
    while (below + counts[median]! <= half) below += counts[median++]!;
    out[i] = median;
  }
}
