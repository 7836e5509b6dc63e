import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { FaceFit } from '../../../src/fit/camera/face-fit.ts';
import { spotToFlat, type FlatFace } from '../../../src/fit/flat/flatten.ts';
import type { EvidenceMaps } from '../../../src/marks/network/evidence-maps.ts';
import { createMarkNetwork, type MarkNetwork } from '../../../src/marks/network/mark-network.ts';
import { peaksOf } from '../../../src/marks/network/peaks-of.ts';
import { createNetworkSession } from '../../../src/marks/network/network-session.ts';
import { loadNetworkRuntime, loadWasmRuntime } from '../../../server/reading/network-runtime.ts';

const SHAFT_MM = 6;
const MM_PER_PX = 0.75;
const HALF_WIDTH_MM = 120;

/** A camera square on to a 40 cm face, 0.9 m away. */
const fit: FaceFit = {
  face: 'wa40',
  photoSize: [1200, 1200],
  pose: { rotation: [1, 0, 0, 0, -1, 0, 0, 0, -1], translationMm: [0, 0, 900] },
  focal: { px: 1500, source: 'exif' },
  lens: { k1: 0, k2: 0, centrePx: [600, 600] },
  bulge: [],
  spotCentresMm: [[0, 0]],
  residualMm: 0.1,
  misfitMm: 0,
  tiltDeg: 0,
  upFrom: 'photo',
  upSdDeg: 1,
  covariance: [],
  notes: [],
};

const HOLES_MM = [
  [12, 5],
  [-33, 21],
  [-55, -40],
  [30, -62],
  [75, 48],
] as const;
const FIGURES_MM = [
  [0, 30],
  [0, 50],
  [0, -70],
  [50, 0],
  [-70, 0],
  [-90, 0],
] as const;
/** Strokes of a 7 and a 4 in a box of unit height. */
const STROKES = [
  [
    [-0.28, 0.5, 0.28, 0.5],
    [0.28, 0.5, -0.08, -0.5],
  ],
  [
    [0.14, -0.5, 0.14, 0.5],
    [0.14, 0.5, -0.3, -0.2],
    [-0.3, -0.2, 0.3, -0.2],
  ],
] as const;

function segmentDistance(
  x: number,
  y: number,
  [ax, ay, bx, by]: readonly [number, number, number, number],
) {
  const length2 = (bx - ax) ** 2 + (by - ay) ** 2;
  const t = Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length2));
  return Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay));
}

/** Colour of the drawn face at a point: zones, lines, figures, torn holes with a light rim. */
function colourAt(x: number, y: number): [number, number, number] {
  const radius = Math.hypot(x, y);
  const zone = Math.floor(radius / 20);
  const inks = [
    [240, 215, 60],
    [240, 215, 60],
    [215, 60, 60],
    [215, 60, 60],
    [60, 150, 210],
    [60, 150, 210],
    [45, 45, 48],
  ] as const;
  let colour: [number, number, number] = [...inks[Math.min(zone, 6)]!];
  const toLine = (zone + 1) * 20 - radius;
  if (toLine < 0.8 && zone < 6) colour = [40, 38, 40];
  FIGURES_MM.forEach(([fx, fy], i) => {
    for (const stroke of STROKES[i % 2]!) {
      const scaled = stroke.map((v) => v * 9) as unknown as [number, number, number, number];
      if (segmentDistance(x - fx, y - fy, scaled) < 0.5) colour = [50, 45, 50];
    }
  });
  for (const [hx, hy] of HOLES_MM) {
    const away = Math.hypot(x - hx, y - hy);
    const angle = Math.atan2(y - hy, x - hx);
    const edge = 2.2 * (1 + 0.12 * Math.cos(3 * angle + hx) + 0.08 * Math.cos(5 * angle));
    if (away < edge + 0.9 && Math.cos(2 * angle + hy) > -0.4) colour = [225, 220, 210];
    if (away < edge) colour = [14, 13, 13];
  }
  return colour;
}

/** Four by four samples per pixel, as a photo would average them. */
function drawFace(): FlatFace {
  const side = (2 * HALF_WIDTH_MM) / MM_PER_PX;
  const data = new Uint8ClampedArray(side * side * 4);
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      const sum = [0, 0, 0];
      for (let k = 0; k < 16; k++) {
        const x = (column + ((k % 4) + 0.5) / 4) * MM_PER_PX - HALF_WIDTH_MM;
        const y = HALF_WIDTH_MM - (row + (Math.floor(k / 4) + 0.5) / 4) * MM_PER_PX;
        colourAt(x, y).forEach((value, c) => (sum[c]! += value / 16));
      }
      data.set([...sum, 255], (row * side + column) * 4);
    }
  }
  return {
    raster: { width: side, height: side, data },
    spot: 0,
    mmPerPx: MM_PER_PX,
    halfWidthMm: HALF_WIDTH_MM,
    centreMm: [0, 0],
    seen: new Uint8Array(side * side).fill(1),
  };
}

let network: MarkNetwork;
let flat: FlatFace;
let maps: EvidenceMaps;

const weights = readFileSync('src/marks/network/weights/mark-network.onnx');

beforeAll(async () => {
  const runtime = await loadNetworkRuntime();
  network = createMarkNetwork(await createNetworkSession({ weights, runtime }));
  flat = drawFace();
  maps = await network.evidence(flat, { fit, shaftMm: SHAFT_MM });
});

afterAll(() => network.release());

/** Largest value of a map within a radius of a point. */
function largest(map: Float32Array, mm: readonly [number, number], radiusMm: number): number {
  const centre = spotToFlat(flat, mm);
  let value = 0;
  for (let row = 0; row < maps.height; row++) {
    for (let column = 0; column < maps.width; column++) {
      const x = (column + 0.5) * maps.pxPerCell;
      const y = (row + 0.5) * maps.pxPerCell;
      if (Math.hypot(x - centre[0], y - centre[1]) * MM_PER_PX > radiusMm) continue;
      value = Math.max(value, map[row * maps.width + column]!);
    }
  }
  return value;
}

test('finds drawn holes, with peaks within a millimetre of their centres', () => {
  const peaks = peaksOf(maps.hole, maps, 0.5);
  for (const mm of HOLES_MM) {
    const [x, y] = spotToFlat(flat, mm);
    const offPx = Math.min(...peaks.map(({ px }) => Math.hypot(px[0] - x, px[1] - y)));
    expect(offPx * MM_PER_PX, `hole at ${mm.join(', ')}`).toBeLessThan(1);
  }
});

test('takes printed figures and lines for no holes', () => {
  const weakest = Math.min(...HOLES_MM.map((mm) => largest(maps.hole, mm, 2.5)));
  for (const mm of FIGURES_MM) {
    expect(largest(maps.hole, mm, 6)).toBeLessThan(0.6 * weakest);
  }
  for (let degree = 0; degree < 360; degree += 3) {
    const angle = (degree * Math.PI) / 180;
    const mm = [79.5 * Math.cos(angle), 79.5 * Math.sin(angle)] as const;
    if (HOLES_MM.some((hole) => Math.hypot(hole[0] - mm[0], hole[1] - mm[1]) < 12)) continue;
    expect(largest(maps.hole, mm, 3)).toBeLessThan(0.3);
  }
});

test('sees no arrows where none stand', () => {
  let shaftCells = 0;
  for (const value of maps.shaft) if (value > 0.5) shaftCells++;
  expect(shaftCells).toBe(0);
  expect(Math.max(...maps.entry)).toBeLessThan(0.4);
});

test('answers the same when asked again, whatever came between', async () => {
  const other = network.evidence(
    { ...flat, raster: { ...flat.raster, data: new Uint8ClampedArray(flat.raster.data.length) } },
    { fit, shaftMm: 5 },
  );
  const again = network.evidence(flat, { fit, shaftMm: SHAFT_MM });
  await other;
  expect(
    Buffer.compare(Buffer.from((await again).hole.buffer), Buffer.from(maps.hole.buffer)),
  ).toBe(0);
});

test('all networks together are small enough to load on a phone', () => {
  const others = ['entry', 'rear'].map((name) =>
    readFileSync(`src/marks/network/weights/${name}-network.onnx`),
  );
  const total = others.reduce((sum, other) => sum + other.length, weights.length);
  expect(total).toBeLessThan(4_000_000);
});

test('sees the same by machine code, as in Node, and by WebAssembly, as in the page', async () => {
  const runtime = await loadWasmRuntime();
  const session = await createNetworkSession({ weights, runtime });
  const byWasm = createMarkNetwork(session);
  const same = await byWasm.evidence(flat, { fit, shaftMm: SHAFT_MM });
  for (const name of ['hole', 'fresh', 'shaft', 'entry', 'vane'] as const) {
    const apart = maps[name].reduce(
      (most, v, i) => Math.max(most, Math.abs(v - same[name][i]!)),
      0,
    );
    expect(apart, name).toBeLessThan(1e-3);
  }
  await byWasm.release();
});
