import { spotToFlat } from '../../fit/flat/flatten.ts';
import {
  STRIP_PLANES,
  STRIP_SHAFT_PX,
  STRIP_STEP,
  STRIP_WIDTH,
  type RearStrip,
} from '../network/rear-strip.ts';
import type { RearStretch } from './arrow-geometry.ts';
import type { RearView } from './rear-view.ts';
import type { StandingArrow } from './standing-arrows.ts';

/** Seen before and after the stretch in which the rear end may lie, in shafts there. */
const MARGIN_SHAFTS = 8;

/** A strip and where it lies. */
export interface PlacedStrip extends RearStrip {
  /** From the entry, mm of flat face, of the middle of a step of the answer. */
  readonly distanceMm: (step: number) => number;
}

/** The picture along the stretch of an arrow's image in which its rear end may lie. */
export function stripAlong(
  { flat, rearShaftMm }: RearView,
  arrow: Pick<StandingArrow, 'mm' | 'along'>,
  stretch: RearStretch,
): PlacedStrip {
  const mmPerPx = rearShaftMm / STRIP_SHAFT_PX;
  const margin = MARGIN_SHAFTS * rearShaftMm;
  const startMm = stretch.fromMm - margin;
  const steps = Math.ceil((stretch.toMm + margin - startMm) / mmPerPx / STRIP_STEP);
  const lengthPx = steps * STRIP_STEP;
  const count = STRIP_WIDTH * lengthPx;
  const planes = new Float32Array(STRIP_PLANES * count);
  planes.fill(stretch.foreshortening, 3 * count);
  const { width, height, data } = flat.raster;
  const [x0, y0] = spotToFlat(flat, arrow.mm);
  const [alongX, alongY] = [arrow.along[0], -arrow.along[1]];
  const toFlat = 1 / flat.mmPerPx;
  for (let row = 0; row < STRIP_WIDTH; row++) {
    const beside = (row + 0.5 - STRIP_WIDTH / 2) * mmPerPx * toFlat;
    for (let column = 0; column < lengthPx; column++) {
      const ahead = (startMm + (column + 0.5) * mmPerPx) * toFlat;
      const x = x0 + ahead * alongX - beside * alongY - 0.5;
      const y = y0 + ahead * alongY + beside * alongX - 0.5;
      const left = Math.floor(x);
      const top = Math.floor(y);
      if (left < 0 || top < 0 || left + 1 >= width || top + 1 >= height) continue;
      const at = row * lengthPx + column;
      for (let plane = 0; plane < 3; plane++) {
        const i = (top * width + left) * 4 + plane;
        const upper = data[i]! + (x - left) * (data[i + 4]! - data[i]!);
        const j = i + 4 * width;
        const lower = data[j]! + (x - left) * (data[j + 4]! - data[j]!);
        planes[plane * count + at] = (upper + (y - top) * (lower - upper)) / 255;
      }
    }
  }
  return {
    planes,
    lengthPx,
    distanceMm: (step) => startMm + (step + 0.5) * STRIP_STEP * mmPerPx,
  };
}
