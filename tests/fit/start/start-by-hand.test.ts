import { expect, test } from 'vitest';
import { priorOf } from '../../../src/fit/camera/camera-prior.ts';
import { plainFit } from '../../../src/fit/camera/plain-fit.ts';
import { sheetToPhoto } from '../../../src/fit/camera/project.ts';
import { viewsOf } from '../../../src/fit/edges/photo-views.ts';
import { startByHand } from '../../../src/fit/start/start-by-hand.ts';
import { cameraFit } from '../camera-fit.ts';
import { paintedFace } from '../painted-face.ts';

const SIZE = [400, 300] as const;
const FIT = cameraFit({ photoSize: SIZE, focalPx: 360, tiltDeg: 30, azimuthDeg: 20 });

test('three taps that are off by a pixel or two give a camera that shows the rings', () => {
  const views = viewsOf(paintedFace(FIT));
  const tap = (x: number, y: number, off: readonly [number, number]) => {
    const [px, py] = sheetToPhoto(FIT, [x, y]);
    return [px + off[0], py + off[1]] as const;
  };
  const taps = {
    centrePx: tap(0, 0, [1, -1]),
    edgesPx: [tap(240, 0, [-1.5, 1]), tap(0, 240, [1, 1.5])] as const,
    radiusMm: 240,
  };
  const [start] = startByHand(views, taps, 'wa80', priorOf(SIZE, 360));
  const found = plainFit(start!.solution.state);
  for (const mm of [
    [0, 0],
    [300, 0],
    [0, -300],
    [-200, 200],
  ] as const) {
    const [x, y] = sheetToPhoto(found, mm);
    const [wantedX, wantedY] = sheetToPhoto(FIT, mm);
    // A quarter of a zone: no ring is taken for its neighbour.
    expect(Math.hypot(x - wantedX, y - wantedY)).toBeLessThan(3.2);
  }
});

test('taps on one place are no start', () => {
  const views = viewsOf({ width: 40, height: 30, data: new Uint8ClampedArray(40 * 30 * 4) });
  const taps = {
    centrePx: [20, 15],
    edgesPx: [
      [20, 15],
      [30, 15],
    ],
  } as const;
  expect(startByHand(views, taps, 'wa80', priorOf([40, 30], undefined))).toEqual([]);
});
