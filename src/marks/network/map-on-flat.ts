import type { FlatFace } from '../../fit/flat/flatten.ts';
import type { EvidenceMaps } from './evidence-maps.ts';

/** A map of the network interpolated to one value per flat pixel. */
export function mapOnFlat(
  map: Float32Array,
  { width, height, pxPerCell }: Pick<EvidenceMaps, 'width' | 'height' | 'pxPerCell'>,
  flat: FlatFace,
): Float32Array {
  const across = flat.raster.width;
  const down = flat.raster.height;
  const out = new Float32Array(across * down);
  /** Cells, counted from the first one's centre, that a pixel lies between, along one axis. */
  const between = (px: number, cells: number): number =>
    Math.min(cells - 1.001, Math.max(0, (px + 0.5) / pxPerCell - 0.5));
  const left = Int32Array.from({ length: across }, (_, x) => Math.floor(between(x, width)));
  const beyond = Float32Array.from({ length: across }, (_, x) => between(x, width) - left[x]!);
  const row = new Float32Array(width);
  for (let y = 0; y < down; y++) {
    const v = between(y, height);
    const j = Math.floor(v);
    const b = v - j;
    for (let i = 0; i < width; i++) {
      row[i] = map[j * width + i]! * (1 - b) + map[(j + 1) * width + i]! * b;
    }
    for (let x = 0; x < across; x++) {
      const i = left[x]!;
      const here = row[i]!;
      out[y * across + x] = here + (row[i + 1]! - here) * beyond[x]!;
    }
  }
  return out;
}
