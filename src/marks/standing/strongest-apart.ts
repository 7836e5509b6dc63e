import type { Bar } from './bar-scan.ts';

/** Of bars that start nearer than `px` and point less than `turn` (radians) apart, the strongest. */
export function strongestApart<T extends Pick<Bar, 'x' | 'y' | 'alongX' | 'alongY' | 'score'>>(
  bars: readonly T[],
  { px, turn }: { readonly px: number; readonly turn: number },
): T[] {
  const kept: T[] = [];
  for (const bar of [...bars].sort((a, b) => b.score - a.score)) {
    const taken = kept.some(
      (k) =>
        Math.hypot(k.x - bar.x, k.y - bar.y) < px &&
        Math.acos(Math.min(1, k.alongX * bar.alongX + k.alongY * bar.alongY)) <= turn,
    );
    if (!taken) kept.push(bar);
  }
  return kept;
}
