import { flatToSpot, spotToFlat } from '../../fit/flat/flatten.ts';
import type { Misfit } from '../flat-view/expected-face.ts';
import type { SpotView } from '../flat-view/spot-view.ts';
import { largestAround } from './largest-around.ts';
import type { Registration } from './register-views.ts';

/** An old hole may look this much stronger in the later photo (light, sharpness, view). */
const GAIN = 1.3;

/**
 * What departs from the face in the later photo and did not in the earlier one. Both photos are
 * compared with their own expected face first, so light and camera drop out; the earlier one's
 * misfit counts as far around as the two are laid upon each other uncertainly.
 */
export function misfitSince(before: SpotView, after: SpotView, registration: Registration): Misfit {
  const { flat, misfit } = after;
  const earlier = before.misfit;
  const reachPx = Math.max(
    1,
    Math.round(
      (Math.min(0.25 * after.shaftMm, 2 * registration.sdMm) + flat.mmPerPx) / before.flat.mmPerPx,
    ),
  );
  const oddAround = largestAround(relative(earlier.odd, earlier.level), earlier.side, reachPx);
  const darkAround = largestAround(relative(earlier.dark, earlier.level), earlier.side, reachPx);
  const side = misfit.side;
  const dark = new Float32Array(side * side);
  const odd = new Float32Array(side * side);
  const cell = 8;
  for (let cy = 0; cy < side; cy += cell) {
    for (let cx = 0; cx < side; cx += cell) {
      const corner = (x: number, y: number) =>
        spotToFlat(before.flat, registration.toBefore(flatToSpot(flat, [x, y])));
      const a = corner(cx, cy);
      const b = corner(cx + cell, cy);
      const c = corner(cx, cy + cell);
      for (let y = cy; y < Math.min(side, cy + cell); y++) {
        for (let x = cx; x < Math.min(side, cx + cell); x++) {
          const at = y * side + x;
          const level = misfit.level[at]!;
          if (level === 0) continue;
          const u = (x + 0.5 - cx) / cell;
          const v = (y + 0.5 - cy) / cell;
          const bx = Math.floor(a[0] + (b[0] - a[0]) * u + (c[0] - a[0]) * v);
          const by = Math.floor(a[1] + (b[1] - a[1]) * u + (c[1] - a[1]) * v);
          if (bx < 0 || by < 0 || bx >= earlier.side || by >= earlier.side) continue;
          const from = by * earlier.side + bx;
          if (earlier.level[from] === 0) continue;
          odd[at] = Math.max(0, misfit.odd[at]! - GAIN * oddAround[from]! * level);
          dark[at] = Math.max(0, misfit.dark[at]! - GAIN * darkAround[from]! * level);
        }
      }
    }
  }
  return { ...misfit, dark, odd };
}

function relative(values: Float32Array, level: Float32Array): Float32Array {
  return values.map((v, i) => (level[i]! > 0 ? Math.max(0, v) / Math.max(8, level[i]!) : 0));
}
