import { boxBlur } from '../flat-view/box-blur.ts';
import type { SpotView } from '../flat-view/spot-view.ts';

/** Spreads over the usual misfit at which something begins to show, and shows for certain. */
const SHOWS = 2.5;
const CERTAIN = 7;
const LEVELS = 24;

/**
 * How certainly something covers or shades the face, 0 to 1, from its misfit against the misfit
 * that is usual at the same distance from the centre (lines differ more than plain ink) and at the
 * same light (noise grows with it); one value per flat pixel.
 */
export function barMap({ flat, misfit, shaftMm }: SpotView): Float32Array {
  const { side, level } = misfit;
  const odd = boxBlur(misfit.odd, side, Math.max(1, Math.round((0.1 * shaftMm) / flat.mmPerPx)));
  const centre = side / 2;
  const rows = Math.ceil(centre * Math.SQRT2) + 1;
  const byRow: number[][] = Array.from({ length: rows }, () => []);
  const byLevel: number[][] = Array.from({ length: LEVELS }, () => []);
  for (let y = 0; y < side; y++) {
    for (let x = y & 1; x < side; x += 2) {
      const at = y * side + x;
      if (level[at] === 0) continue;
      byRow[Math.floor(Math.hypot(x + 0.5 - centre, y + 0.5 - centre))]!.push(odd[at]!);
      if ((x + y * 3) % 8 === 0) byLevel[levelBin(level[at]!)]!.push(odd[at]!);
    }
  }
  const fewest = (6 * Math.PI * shaftMm) / flat.mmPerPx;
  const ofRow = byRow.map((values) => quietHalf(values, fewest));
  const ofLevel = byLevel.map((values) => quietHalf(values, 200));
  const bars = new Float32Array(side * side);
  for (let y = 0; y < side; y++) {
    for (let x = 0; x < side; x++) {
      const at = y * side + x;
      if (level[at] === 0) continue;
      const row = ofRow[Math.floor(Math.hypot(x + 0.5 - centre, y + 0.5 - centre))]!;
      const light = ofLevel[levelBin(level[at]!)]!;
      const usual = Math.max(row.usual, light.usual);
      const spread = Math.max(row.spread, light.spread, 1);
      const z = (odd[at]! - usual) / spread;
      bars[at] = Math.min(1, Math.max(0, (z - SHOWS) / (CERTAIN - SHOWS)));
    }
  }
  return bars;
}

function levelBin(level: number): number {
  return Math.min(LEVELS - 1, Math.floor((level / 256) * LEVELS));
}

/** Middle and spread of misfits, from their quieter half: bars may make up much of the rest. */
function quietHalf(values: number[], fewest: number): { usual: number; spread: number } {
  if (values.length < fewest) return { usual: 0, spread: 0 };
  values.sort((a, b) => a - b);
  const low = values[Math.floor(values.length * 0.15)]!;
  const usual = values[Math.floor(values.length * 0.45)]!;
  return { usual, spread: (usual - low) * 1.4 };
}
