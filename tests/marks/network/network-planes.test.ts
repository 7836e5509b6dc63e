import { expect, test } from 'vitest';
import type { FlatFace } from '../../../src/fit/flat/flatten.ts';
import { flatten } from '../../../src/fit/flat/flatten.ts';
import { cameraOverSheet } from '../../../src/fit/camera/project.ts';
import { fillPlanes, INPUT_PLANES } from '../../../src/marks/network/network-planes.ts';
import { cameraFit } from '../../fit/camera-fit.ts';
import { paintedFace } from '../../fit/painted-face.ts';

const FIT = cameraFit({ photoSize: [240, 180], tiltDeg: 30, azimuthDeg: 0 });
const SHAFT_MM = 12;

function planesOf(flat: FlatFace) {
  const [width, height] = [48, 48];
  const planes = new Float32Array(INPUT_PLANES * width * height);
  // From the flat face's middle to the right and down, two flat pixels to a step.
  const from = flat.raster.width / 2;
  fillPlanes(
    planes,
    flat,
    { fit: FIT, shaftMm: SHAFT_MM },
    {
      width,
      height,
      pxPerStep: 2,
      leftPx: from,
      topPx: from,
    },
  );
  const at = (plane: number, column: number, row: number) =>
    planes[(plane * height + row) * width + column]!;
  return { at, mmPerStep: 2 * flat.mmPerPx };
}

test('the line plane is highest on printed lines and nothing a shaft away from them', () => {
  const flat = flatten(paintedFace(FIT), FIT, { spot: 0, mmPerPx: 3 });
  const { at, mmPerStep } = planesOf(flat);
  // Along the row through the centre: zones of 40 mm, a line just inside of every radius but one.
  for (let column = 0; column < 48; column++) {
    const radius = Math.hypot((column + 0.5) * mmPerStep, 0.5 * mmPerStep);
    const toLine = Math.min(
      ...[20, 40, 80, 120, 160, 200, 240, 280, 360].map((line) => Math.abs(line - 0.5 - radius)),
    );
    if (radius < 280) {
      expect(Math.abs(at(3, column, 0) - Math.max(0, 1 - toLine / SHAFT_MM))).toBeLessThan(0.12);
    }
  }
});

test('colours are those of the flat face, and the normal points away from the camera above it', () => {
  const flat = flatten(paintedFace(FIT), FIT, { spot: 0, mmPerPx: 3 });
  const { at, mmPerStep } = planesOf(flat);
  // The gold: red and green bright, blue not.
  const gold = [0, 1, 2].map((plane) => at(plane, 4, 1));
  expect(gold[0]!).toBeGreaterThan(0.8);
  expect(gold[2]!).toBeLessThan(0.4);
  // How far a shaft's far end moves in the flat picture for its height: away from the camera's foot.
  const [cameraX, , height] = cameraOverSheet(FIT);
  expect(at(4, 10, 5)).toBeCloseTo((10.5 * mmPerStep - cameraX) / height, 4);
  expect(Math.sign(at(4, 10, 5))).toBe(-Math.sign(cameraX));
});
