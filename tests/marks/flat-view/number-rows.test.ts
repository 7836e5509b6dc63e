import { expect, test } from 'vitest';
import { FACES } from '../../../src/face/faces.ts';
import { spotToFlat, type FlatFace } from '../../../src/fit/flat/flatten.ts';
import type { Misfit } from '../../../src/marks/flat-view/expected-face.ts';
import { numberCells } from '../../../src/marks/flat-view/number-rows.ts';

const FACE = FACES.wa60;
const HALF_MM = 320;
const SIDE = 1000;

/** A flat face on which nothing is known but where something departs from the print. */
function faceWith(spotsMm: readonly (readonly [number, number])[]): [FlatFace, Misfit] {
  const mmPerPx = (2 * HALF_MM) / SIDE;
  const flat: FlatFace = {
    raster: { width: SIDE, height: SIDE, data: new Uint8ClampedArray(0) },
    spot: 0,
    mmPerPx,
    halfWidthMm: HALF_MM,
    centreMm: [0, 0],
    seen: new Uint8Array(0),
  };
  const odd = Float32Array.from({ length: SIDE * SIDE }, (_, i) => (i * 7919) % 5);
  for (const spot of spotsMm) {
    const [x, y] = spotToFlat(flat, spot);
    for (let dy = -3; dy <= 3; dy++) {
      for (let dx = -3; dx <= 3; dx++) odd[Math.floor(y + dy) * SIDE + Math.floor(x + dx)] = 60;
    }
  }
  const none = new Float32Array(0);
  return [flat, { side: SIDE, odd, dark: none, level: none }];
}

/** Middles of zones 1 to 9 in a direction, mm: numbers stand there. */
function row(degrees: number): [number, number][] {
  const angle = (degrees * Math.PI) / 180;
  return Array.from({ length: 9 }, (_, i) => {
    const r = 285 - 30 * i;
    return [r * Math.cos(angle), r * Math.sin(angle)];
  });
}

test('holes beside numbers do not turn their row away from the cross', () => {
  // Of the row to the right hardly the inner numbers show, and six holes lie a little above it.
  const right = [...row(3).slice(0, 6), ...row(0).slice(6)];
  const [flat, misfit] = faceWith([...[90, 180, 270].flatMap(row), ...right]);
  const cells = numberCells(FACE, flat, misfit);
  const outermost = cells.filter(({ mm }) => Math.hypot(...mm) > 280);
  expect(outermost).toHaveLength(4);
  for (const [x, y] of [0, 90, 180, 270].map((angle) => row(angle)[0]!)) {
    const nearest = Math.min(...outermost.map(({ mm }) => Math.hypot(mm[0] - x, mm[1] - y)));
    expect(nearest).toBeLessThan(4);
  }
});

test('scattered holes make no row', () => {
  const scattered = Array.from({ length: 30 }, (_, i): [number, number] => {
    const r = 20 + 8.7 * i;
    return [r * Math.cos(2.4 * i), r * Math.sin(2.4 * i)];
  });
  const [flat, misfit] = faceWith(scattered);
  expect(numberCells(FACE, flat, misfit)).toEqual([]);
});
