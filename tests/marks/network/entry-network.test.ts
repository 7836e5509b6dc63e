import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { loadNetworkRuntime } from '../../../server/reading/network-runtime.ts';
import { cameraOverSheet } from '../../../src/fit/camera/project.ts';
import { flatten, spotToFlat, type FlatFace } from '../../../src/fit/flat/flatten.ts';
import {
  createEntryNetwork,
  SHAFT_PX,
  type EntryMaps,
  type EntryNetwork,
} from '../../../src/marks/network/entry-network.ts';
import { createNetworkSession } from '../../../src/marks/network/network-session.ts';
import { peaksOf } from '../../../src/marks/network/peaks-of.ts';
import { cameraFit } from '../../fit/camera-fit.ts';
import { paintedFace } from '../../fit/painted-face.ts';

const FIT = cameraFit({ photoSize: [1200, 900], tiltDeg: 45, azimuthDeg: 0 });
const SHAFT_MM = 6;
const MM_PER_PX = SHAFT_MM / SHAFT_PX;
/** Two shafts that nearly touch all along, the second entering a little farther from the camera. */
const ENTRIES_MM = [
  [-20, 0],
  [-8, -7],
] as const;

let network: EntryNetwork;
let flat: FlatFace;
let maps: EntryMaps;

beforeAll(async () => {
  const weights = readFileSync('src/marks/network/weights/entry-network.onnx');
  const runtime = await loadNetworkRuntime();
  network = createEntryNetwork(await createNetworkSession({ weights, runtime }));
  flat = flatten(paintedFace(FIT), FIT, { spot: 0, mmPerPx: MM_PER_PX, halfWidthMm: 72 });
  for (const mm of ENTRIES_MM) paintShaft(flat, mm);
  maps = await network.evidence(flat, { fit: FIT, shaftMm: SHAFT_MM });
});

afterAll(() => network.release());

/** A black shaft with a light along it, from its entry the way that the camera sees it lead. */
function paintShaft({ raster }: FlatFace, mm: readonly [number, number]): void {
  const [x, y] = spotToFlat(flat, mm);
  const away = Math.sign(mm[0] - cameraOverSheet(FIT)[0]);
  for (let row = 0; row < raster.height; row++) {
    for (let column = 0; column < raster.width; column++) {
      const across = (row + 0.5 - y) / (SHAFT_PX / 2);
      const ahead = away * (column + 0.5 - x);
      const isShaft = ahead > 0 ? Math.abs(across) < 1 : Math.hypot(ahead, row + 0.5 - y) < 5;
      if (!isShaft) continue;
      const light = 25 + 60 * Math.exp(-(((across + 0.3) / 0.25) ** 2));
      raster.data.fill(
        light,
        4 * (row * raster.width + column),
        4 * (row * raster.width + column) + 3,
      );
    }
  }
}

test('sees both entries of shafts that nearly touch, each within a millimetre', () => {
  const peaks = peaksOf(maps.entry, maps, 0.3);
  for (const mm of ENTRIES_MM) {
    const [x, y] = spotToFlat(flat, mm);
    const offPx = Math.min(...peaks.map(({ px }) => Math.hypot(px[0] - x, px[1] - y)));
    expect(offPx * MM_PER_PX, `entry at ${mm.join(', ')}`).toBeLessThan(1);
  }
  expect(peaks.length).toBe(ENTRIES_MM.length);
});

test('parts the cores of the shafts, where both are seen side by side', () => {
  const away = Math.sign(ENTRIES_MM[0][0] - cameraOverSheet(FIT)[0]);
  const at = (mm: readonly [number, number]): number => {
    const [x, y] = spotToFlat(flat, mm);
    return maps.core[Math.floor(y / 2) * maps.width + Math.floor(x / 2)]!;
  };
  const beside = away > 0 ? 25 : -45;
  expect(at([beside, 0])).toBeGreaterThan(0.5);
  expect(at([beside, -7])).toBeGreaterThan(0.5);
  expect(at([beside, -3.5])).toBeLessThan(0.5);
});
