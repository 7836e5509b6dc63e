import { expect, test } from 'vitest';
import { stateOfFit } from '../../../src/fit/camera/camera-state.ts';
import { paperEdges } from '../../../src/fit/edges/paper-edges.ts';
import { photoToSheet } from '../../../src/fit/camera/project.ts';
import type { Raster } from '../../../src/raster/raster.ts';
import { cameraFit } from '../camera-fit.ts';

const fit = cameraFit({ photoSize: [1200, 900], tiltDeg: 20, azimuthDeg: 40 });
const [WIDTH, HEIGHT] = fit.photoSize;

/** Paper has either four sides or, with its corners cut off, eight of one length. */
type Cut = 'square' | 'octagon';

/** White paper of 860 mm, turned counter-clockwise by an angle, on a brown boss. */
function paperTurnedBy(degrees: number, cut: Cut = 'square'): Raster {
  const turn = (degrees * Math.PI) / 180;
  const data = new Uint8ClampedArray(WIDTH * HEIGHT * 4);
  for (let y = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++) {
      const mm = photoToSheet(fit, [x + 0.5, y + 0.5]);
      const across = Math.abs(mm[0] * Math.cos(turn) + mm[1] * Math.sin(turn));
      const up = Math.abs(-mm[0] * Math.sin(turn) + mm[1] * Math.cos(turn));
      const isPaper =
        Math.max(across, up) < 430 && (cut === 'square' || across + up < 430 * Math.SQRT2);
      data.set(isPaper ? [235, 235, 230, 255] : [120, 90, 60, 255], (y * WIDTH + x) * 4);
    }
  }
  return { width: WIDTH, height: HEIGHT, data };
}

const ABOUT = { outerMm: 400, upSd: 0.06 };
const inDegrees = (turn: number): number => (turn * 180) / Math.PI;

test.each([
  [-3.2, 'square'],
  [-0.2, 'square'],
  [0.35, 'square'],
  [11, 'square'],
  [-8, 'octagon'],
  [1.7, 'octagon'],
  [9, 'octagon'],
] as const)('finds paper turned by %f degrees: %s', (degrees, cut) => {
  const { paper, strayTurn } = paperEdges(paperTurnedBy(degrees, cut), stateOfFit(fit), ABOUT);
  expect(paper!.sides).toBe(4);
  expect(Math.abs(inDegrees(paper!.turn) - degrees)).toBeLessThan(0.1);
  expect(paper!.sd).toBeLessThan(0.005);
  expect(strayTurn).toBeNull();
});

test('does not believe, but tells of, edges turned as no face hangs', () => {
  const { paper, strayTurn } = paperEdges(paperTurnedBy(37), stateOfFit(fit), ABOUT);
  expect(paper).toBeNull();
  expect(Math.abs(inDegrees(strayTurn!) - 37)).toBeLessThan(3);
});

test('sees no paper on a wall', () => {
  const wall = { ...paperTurnedBy(0), data: new Uint8ClampedArray(WIDTH * HEIGHT * 4).fill(128) };
  expect(paperEdges(wall, stateOfFit(fit), ABOUT)).toEqual({ paper: null, strayTurn: null });
});
