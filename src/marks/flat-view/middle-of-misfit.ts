import type { Misfit } from './expected-face.ts';

/** Width of the window that gathers the misfit, as a part of the shaft (one sigma). */
const WINDOW = 0.3;
/** Misfit counts in full from this part of the strongest one on, and not below a third of that. */
const FULL = 0.6;

/**
 * Middle of a hole from everything about it that is not the face: cavity, torn rim and flaps weigh
 * alike, since the paper opens to one side as often as to the other but tears all round the shaft.
 *
 * @returns Flat pixels, centre of the first one (0.5, 0.5).
 */
export function middleOfMisfit(
  misfit: Misfit,
  start: readonly [number, number],
  shaftPx: number,
): [number, number] {
  const { odd, side } = misfit;
  const near = Math.round(0.5 * shaftPx);
  let strongest = 0;
  for (let dy = -near; dy <= near; dy++) {
    for (let dx = -near; dx <= near; dx++) {
      const at = (Math.floor(start[1]) + dy) * side + Math.floor(start[0]) + dx;
      strongest = Math.max(strongest, odd[at] ?? 0);
    }
  }
  // Where the face is as printed there is nothing to be in the middle of.
  if (strongest === 0) return [start[0], start[1]];
  const sigma = WINDOW * shaftPx;
  const reach = Math.ceil(2.5 * sigma);
  let [x, y] = start;
  for (let i = 0; i < 12; i++) {
    let sum = 0;
    let sumX = 0;
    let sumY = 0;
    for (let row = Math.floor(y) - reach; row <= Math.floor(y) + reach; row++) {
      for (let column = Math.floor(x) - reach; column <= Math.floor(x) + reach; column++) {
        const dx = column + 0.5 - x;
        const dy = row + 0.5 - y;
        const part = (odd[row * side + column] ?? 0) / (FULL * strongest) - 0.3;
        const weight =
          Math.min(1, Math.max(0, part)) * Math.exp(-(dx * dx + dy * dy) / (2 * sigma * sigma));
        sum += weight;
        sumX += weight * (column + 0.5);
        sumY += weight * (row + 0.5);
      }
    }
    if (sum === 0) break;
    const moved = Math.hypot(sumX / sum - x, sumY / sum - y);
    x = sumX / sum;
    y = sumY / sum;
    if (moved < 0.01) break;
  }
  return [x, y];
}
