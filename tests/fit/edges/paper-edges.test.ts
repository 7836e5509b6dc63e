import { expect, test } from 'vitest';
import { stateOfFit } from '../../../src/fit/camera/camera-state.ts';
import { paperEdges } from '../../../src/fit/edges/paper-edges.ts';
import { photoToSheet } from '../../../src/fit/camera/project.ts';
import type { Raster } from '../../../src/raster/raster.ts';
import { cameraFit } from '../camera-fit.ts';

const fit = cameraFit({ photoSize: [1200, 900], tiltDeg: 20, azimuthDeg: 40 });
const [WIDTH, HEIGHT] = fit.photoSize;

/** White paper of 860 mm, turned counter-clockwise by an angle, on a brown boss. */
function paperTurnedBy(degrees: number): Raster {
  const turn = (degrees * Math.PI) / 180;
  const data = new Uint8ClampedArray(WIDTH * HEIGHT * 4);
  for (let y = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++) {
      const mm = photoToSheet(fit, [x + 0.5, y + 0.5]);
      const across = mm[0] * Math.cos(turn) + mm[1] * Math.sin(turn);
      const up = -mm[0] * Math.sin(turn) + mm[1] * Math.cos(turn);
      const isPaper = Math.max(Math.abs(across), Math.abs(up)) < 430;
      data.set(isPaper ? [235, 235, 230, 255] : [120, 90, 60, 255], (y * WIDTH + x) * 4);
    }
  }
  return { width: WIDTH, height: HEIGHT, data };
}

test.each([-3.2, -0.2, 0, 0.35, 1.7])('finds paper turned by %f degrees', (degrees) => {
  const found = paperEdges(paperTurnedBy(degrees), stateOfFit(fit), 0.06).paper!;
  expect(found.sides).toBe(4);
  expect((found.turn * 180) / Math.PI).toBeCloseTo(degrees, 1);
  expect(found.sd).toBeLessThan(0.005);
});
