import type { FlatFace } from '../../fit/flatten.ts';
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
  for (let y = 0; y < down; y++) {
    const v = Math.min(height - 1.001, Math.max(0, (y + 0.5) / pxPerCell - 0.5));
    const j = Math.floor(v);
    const b = v - j;
    for (let x = 0; x < across; x++) {
      const u = Math.min(width - 1.001, Math.max(0, (x + 0.5) / pxPerCell - 0.5));
      const i = Math.floor(u);
      const a = u - i;
      const at = j * width + i;
      out[y * across + x] =
        (map[at]! * (1 - a) + map[at + 1]! * a) * (1 - b) +
        (map[at + width]! * (1 - a) + map[at + width + 1]! * a) * b;
    }
  }
  return out;
}
