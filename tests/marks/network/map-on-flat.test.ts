import { expect, test } from 'vitest';
import type { FlatFace } from '../../../src/fit/flat/flatten.ts';
import { mapOnFlat } from '../../../src/marks/network/map-on-flat.ts';

test('a map that rises evenly does so on the flat face too, in the same frame', () => {
  const [width, height, pxPerCell] = [8, 8, 4];
  const side = width * pxPerCell;
  // The value of a cell is the flat pixel of its centre, across and a thousand times down.
  const map = Float32Array.from(
    { length: width * height },
    (_, i) => ((i % width) + 0.5) * pxPerCell + 1000 * (Math.floor(i / width) + 0.5) * pxPerCell,
  );
  const flat = { raster: { width: side, height: side } } as FlatFace;
  const out = mapOnFlat(map, { width, height, pxPerCell }, flat);
  for (let y = pxPerCell; y < side - pxPerCell; y++) {
    for (let x = pxPerCell; x < side - pxPerCell; x++) {
      expect(Math.abs(out[y * side + x]! - (x + 0.5 + 1000 * (y + 0.5)))).toBeLessThan(0.02);
    }
  }
});
