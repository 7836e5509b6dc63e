import { type EvidenceMaps } from './evidence-maps.ts';

export interface Peak {
  /** Flat pixels, centre of the first one (0.5, 0.5). */
  readonly px: readonly [number, number];
  readonly height: number;
}

/** Cells either side within which a peak is the highest. */
const APART = 1;
/** The part of a peak above this share of its height places it. */
const FOOT = 0.4;

/** Local maxima of a heat map, placed by the centre of mass of their tops. */
export function peaksOf(
  heat: Float32Array,
  { width, height, pxPerCell }: Pick<EvidenceMaps, 'width' | 'height' | 'pxPerCell'>,
  least: number,
): Peak[] {
  const peaks: Peak[] = [];
  for (let row = APART; row < height - APART; row++) {
    for (let column = APART; column < width - APART; column++) {
      const h = heat[row * width + column]!;
      if (h < least || !isHighest(heat, width, column, row)) continue;
      let sum = 0;
      let sumX = 0;
      let sumY = 0;
      for (let dy = -APART; dy <= APART; dy++) {
        for (let dx = -APART; dx <= APART; dx++) {
          const weight = Math.max(0, heat[(row + dy) * width + column + dx]! - FOOT * h);
          sum += weight;
          sumX += weight * (column + dx + 0.5);
          sumY += weight * (row + dy + 0.5);
        }
      }
      peaks.push({ px: [(sumX / sum) * pxPerCell, (sumY / sum) * pxPerCell], height: h });
    }
  }
  return peaks.sort((a, b) => b.height - a.height);
}

function isHighest(heat: Float32Array, width: number, column: number, row: number): boolean {
  const h = heat[row * width + column]!;
  for (let dy = -APART; dy <= APART; dy++) {
    for (let dx = -APART; dx <= APART; dx++) {
      const other = heat[(row + dy) * width + column + dx]!;
      if (other > h || (other === h && (dy < 0 || (dy === 0 && dx < 0)))) return false;
    }
  }
  return true;
}
