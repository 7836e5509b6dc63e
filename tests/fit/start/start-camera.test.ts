import { expect, test } from 'vitest';
import { FACES, ringRadiiMm } from '../../../src/face/faces.ts';
import { priorOf } from '../../../src/fit/camera/camera-prior.ts';
import { stateOfFit } from '../../../src/fit/camera/camera-state.ts';
import { conicThrough } from '../../../src/fit/camera/conic.ts';
import type { FaceFit } from '../../../src/fit/camera/face-fit.ts';
import { plainFit } from '../../../src/fit/camera/plain-fit.ts';
import { sheetToPhoto } from '../../../src/fit/camera/project.ts';
import type { SpotCandidate } from '../../../src/fit/find/find-candidates.ts';
import { coloursOf, inkCosts } from '../../../src/fit/find/ink-costs.ts';
import { inkBands, lookOf } from '../../../src/face/looks.ts';
import {
  farthestOff,
  movedOrigin,
  startCameras,
  uprightRotation,
} from '../../../src/fit/start/start-camera.ts';
import { cameraFit } from '../camera-fit.ts';

test('an upright rotation turns nothing but the face: rows of unit length, right-handed, up is up', () => {
  const normal = [0.3, -0.2, -Math.sqrt(1 - 0.13)] as const;
  const r = uprightRotation(normal);
  for (const [a, b] of [
    [0, 0],
    [1, 1],
    [2, 2],
    [0, 1],
    [0, 2],
    [1, 2],
  ] as const) {
    const product = [0, 1, 2].reduce((sum, i) => sum + r[3 * i + a]! * r[3 * i + b]!, 0);
    expect(product).toBeCloseTo(a === b ? 1 : 0, 12);
  }
  expect([r[2], r[5], r[8]]).toEqual([...normal]);
  // The photo's y goes down; the face's right stays level.
  expect(r[4]).toBeLessThan(0);
  expect(r[3]).toBeCloseTo(0, 12);
});

test('moving the origin moves no point of the sheet in the photo', () => {
  const fit = cameraFit({ tiltDeg: 30, azimuthDeg: 70, rollDeg: 12 });
  const moved = plainFit(movedOrigin(stateOfFit(fit), [120, -45]));
  const [x, y] = sheetToPhoto(moved, [120 + 33, -45 + 21]);
  const [wantedX, wantedY] = sheetToPhoto(fit, [33, 21]);
  expect([x, y]).toEqual([expect.closeTo(wantedX, 8), expect.closeTo(wantedY, 8)]);
});

/** A face with ten zones as its borders are found. */
function spotOf(fit: FaceFit): SpotCandidate {
  const face = FACES.wa80;
  const borders = inkBands(face).map(({ ring }, band) => {
    const radius = ringRadiiMm(face)[ring]!;
    const points = Array.from({ length: 60 }, (_, i) => {
      const angle = (i * Math.PI) / 30;
      return sheetToPhoto(fit, [radius * Math.cos(angle), radius * Math.sin(angle)]);
    });
    return { band, conic: conicThrough(points, sheetToPhoto(fit, [0, 0]))!, points, support: 1 };
  });
  return {
    look: lookOf('ten-ring'),
    inks: inkCosts(coloursOf({ width: 1, height: 1, data: new Uint8Array(4) }), 1, 0.03),
    centrePx: sheetToPhoto(fit, [0, 0]),
    borders,
    innermostPx: 40,
    families: ['ten-ring'],
    support: 1,
  };
}

/** The projective image of circles is exact here: whatever comes back otherwise is the start's error. */
test.each([0, 20, 45, 60])(
  'finds a camera tilted by %d degrees from the ellipses alone',
  (tiltDeg) => {
    const fit = cameraFit({ tiltDeg, azimuthDeg: 25, focalPx: 2000 });
    const [start] = startCameras(
      spotOf(fit),
      'wa80',
      fit.photoSize,
      priorOf(fit.photoSize, 2000),
      0.6,
    );
    const found = plainFit(start!.solution.state);
    const cosine = [2, 5, 8].reduce(
      (sum, i) => sum + found.pose.rotation[i]! * fit.pose.rotation[i]!,
      0,
    );
    expect((Math.acos(Math.min(1, cosine)) * 180) / Math.PI).toBeLessThan(0.5);
    const [x, y] = sheetToPhoto(found, [0, 0]);
    const [wantedX, wantedY] = sheetToPhoto(fit, [0, 0]);
    expect(Math.hypot(x - wantedX, y - wantedY)).toBeLessThan(0.5);
  },
);

test('says how far off each border is from where a face has it', () => {
  const fit = cameraFit({ tiltDeg: 20, azimuthDeg: 25, focalPx: 2000 });
  const prior = priorOf(fit.photoSize, 2000);
  const [itself] = startCameras(spotOf(fit), 'wa80', fit.photoSize, prior, 0.6);
  expect([...itself!.offByBand.keys()]).toEqual([0, 1, 2, 3, 4]);
  expect(farthestOff(itself!, 3)).toBeLessThan(0.1);
  // Its gold and red lie as those of ten zones do, its blue ends a zone earlier; it has no black.
  const [shorter] = startCameras(spotOf(fit), 'wa80-5', fit.photoSize, prior, 0.6);
  expect([...shorter!.offByBand.keys()]).toEqual([0, 1, 2]);
  expect(farthestOff(shorter!, 3)).toBeGreaterThan(20);
});
