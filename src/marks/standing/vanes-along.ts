import type { SpotView } from '../hand-made/spot-view.ts';
import type { EvidenceMaps } from '../network/evidence-maps.ts';
import type { Bar } from './bar-scan.ts';

/** Vanes sit in this stretch of what is seen of an arrow; behind it the nock looks alike. */
const REAR = { from: 0.7, to: 0.9 } as const;
/** Vanes stand out from the axis by about this many shafts, before perspective widens them. */
const OUT = [1.1, 1.6, 2.1];
/** Wraps and glints break a shaft up over fewer shafts than this. */
const GAP = 4;
/** An arrow seen shorter than this, in shafts, is seen nearly end on. */
const END_ON = 16;
/** Strength from which vanes are taken for seen though the rear end is out of the picture. */
const CERTAIN = 0.4;

/**
 * How much the rear end of a bar looks fletched: something standing out to either side of the
 * shaft. By the network's map of vanes, else by what covers the face beside the shaft there.
 *
 * @param widening How much wider the rear end is seen than the front, by perspective.
 * @returns 0 to 1, null when the rear end is out of the picture.
 */
export function vanesAlong(
  view: SpotView,
  bar: Bar,
  maps: EvidenceMaps | null,
  widening: number,
): number | null {
  const { misfit, flat, shaftMm } = view;
  const side = misfit.side;
  const shaft = shaftMm / flat.mmPerPx;
  const at = (d: number, off: number): [number, number] => [
    bar.x + d * bar.alongX - off * bar.alongY,
    bar.y + d * bar.alongY + off * bar.alongX,
  ];
  const isOutside = ([x, y]: readonly [number, number]): boolean =>
    x < 1 || y < 1 || x >= side - 1 || y >= side - 1;
  const read = (map: Float32Array | undefined, [x, y]: readonly [number, number]): number => {
    if (maps && map) {
      return map[Math.floor(y / maps.pxPerCell) * maps.width + Math.floor(x / maps.pxPerCell)] ?? 0;
    }
    return Math.min(1, (misfit.odd[Math.floor(y) * side + Math.floor(x)] ?? 0) / 40);
  };
  const covers = (d: number): boolean =>
    [-1, -0.5, 0, 0.5, 1].some((t) => {
      // The direction is known to about a degree.
      const place = at(d, t * (0.4 * shaft + 0.02 * d));
      return maps
        ? Math.max(read(maps.shaft, place), read(maps.nock, place), read(maps.vane, place)) > 0.4
        : read(undefined, place) > 0.5;
    });
  let end = 0;
  let runsOut = false;
  for (let d = 0; d - end < GAP * shaft; d += shaft / 3) {
    if (isOutside(at(d, 0))) {
      runsOut = true;
      break;
    }
    if (covers(d)) end = d;
  }
  const strengths: number[] = [];
  const stop = runsOut ? end : REAR.to * end;
  for (let d = (runsOut ? 0.4 : REAR.from) * end; d <= stop; d += shaft / 3) {
    const wide = 1 + (widening - 1) * (d / end);
    let largest = 0;
    for (const out of OUT) {
      for (const sign of [-1, 1]) {
        const place = at(d, sign * out * shaft * wide);
        if (!isOutside(place)) largest = Math.max(largest, read(maps?.vane, place));
      }
    }
    strengths.push(largest);
  }
  if (strengths.length === 0) return null;
  strengths.sort((a, b) => b - a);
  const top = strengths.slice(0, Math.max(2, Math.ceil(strengths.length * 0.4)));
  const vanes = top.reduce((sum, v) => sum + v, 0) / top.length;
  // Seen nearly end on, vanes and shaft cover one another.
  const unclear = runsOut || end < END_ON * shaft;
  return unclear && vanes < CERTAIN ? null : vanes;
}
