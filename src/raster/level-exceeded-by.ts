/**
 * The level, 1 to 255, that no more than a share of all counted values exceed.
 *
 * @param counts How many values there are of each level from 0 to 255.
 * @param total All values that were counted.
 */
export function levelExceededBy(share: number, counts: Uint32Array, total: number): number {
  let above = 0;
  let level = 255;
  while (level > 1 && above + counts[level]! < share * total) above += counts[level--]!;
  return level;
}
