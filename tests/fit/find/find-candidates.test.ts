import { beforeAll, expect, test } from 'vitest';
import { FACES } from '../../../src/face/faces.ts';
import { lookOf, type Look } from '../../../src/face/looks.ts';
import { priorOf } from '../../../src/fit/camera/camera-prior.ts';
import { stateOfFit } from '../../../src/fit/camera/camera-state.ts';
import { plainFit } from '../../../src/fit/camera/plain-fit.ts';
import { sheetToPhoto, spotToSheet } from '../../../src/fit/camera/project.ts';
import { findCandidates, type SpotCandidate } from '../../../src/fit/find/find-candidates.ts';
import { groupSpots } from '../../../src/fit/find/group-spots.ts';
import { familiesShown, inkAgreement, inkReader } from '../../../src/fit/find/inks-around.ts';
import { startFace } from '../../../src/fit/start/start-face.ts';
import { loadOpenCv, type OpenCv } from '../../../src/raster/load-open-cv.ts';
import type { PhotoCopy } from '../../../src/raster/shrink.ts';
import { cameraFit, type CameraOptions } from '../camera-fit.ts';
import { paintedFace } from '../painted-face.ts';

const SIZE = [400, 300] as const;

let cv: OpenCv;
beforeAll(async () => {
  ({ cv } = await loadOpenCv());
});

function firstFound(copy: PhotoCopy, wanted: Look): SpotCandidate[] {
  const [first = []] = findCandidates(copy, wanted, cv);
  return first;
}

function seen(camera: CameraOptions) {
  const fit = cameraFit({ photoSize: SIZE, focalPx: 360, ...camera });
  const copy = { raster: paintedFace(fit), factor: 1 };
  return { fit, copy, spots: firstFound(copy, lookOf(FACES[fit.face].family)) };
}

test.each([
  ['wa80', { tiltDeg: 0 }, 1],
  ['wa80-6', { tiltDeg: 35, azimuthDeg: 60 }, 1],
  ['wa40-triple-vertical', { tiltDeg: 20, azimuthDeg: 0 }, 3],
  ['ifaa50', { tiltDeg: 15, azimuthDeg: 200 }, 1],
] as const)('%s: its spots are found, grouped, and give a first camera', (face, camera, count) => {
  const { fit, copy, spots } = seen({ face, ...camera });
  const groups = groupSpots(spots, SIZE, { face });
  expect(groups[0]!.family).toBe(FACES[face].family);
  expect(groups[0]!.spots).toHaveLength(count);

  const prior = priorOf(SIZE, 360);
  const [start] = startFace(groups[0]!, spots, face, { photoSize: SIZE, factor: 1 }, prior);
  const first = plainFit(start!.solution.state);
  for (let spot = 0; spot < count; spot++) {
    const [x, y] = sheetToPhoto(first, spotToSheet(first, spot, [0, 0]));
    const [wantedX, wantedY] = sheetToPhoto(fit, spotToSheet(fit, spot, [0, 0]));
    expect(Math.hypot(x - wantedX, y - wantedY)).toBeLessThan(1.5);
  }

  const read = inkReader(copy, spots[0]!.inks);
  expect(inkAgreement(read, stateOfFit(fit), FACES[face].family)).toBeGreaterThan(0.9);
});

test('tells by the inks how far a face goes on', () => {
  const six = seen({ face: 'wa80-6', tiltDeg: 10 });
  const read = inkReader(six.copy, six.spots[0]!.inks);
  // Fitted as the ten-zone face, whose inner zones are the same.
  const asTen = { ...stateOfFit(six.fit), face: 'wa80' } as const;
  expect(familiesShown(read, asTen).shown).toBe('six-ring');
  expect(inkAgreement(read, asTen, 'ten-ring')).toBeLessThan(0.8);
});

test('black rings about something that is not white are hardly a black and white face', () => {
  const { fit, copy, spots } = seen({ face: 'ifaa50', tiltDeg: 15 });
  const read = inkReader(copy, spots[0]!.inks);
  const agreement = () => inkAgreement(read, stateOfFit(fit), 'black-and-white');
  expect(agreement()).toBeGreaterThan(0.9);
  const { data } = copy.raster;
  for (let p = 0; p < data.length; p += 4) if (data[p]! > 200) data.set([70, 110, 60], p);
  // The white ring is a third of what is looked at: (6^2 - 2^2) of 10^2 in radii.
  expect(agreement()).toBeLessThan(0.7);
});

test('finds nothing where nothing is', () => {
  const data = new Uint8ClampedArray(SIZE[0] * SIZE[1] * 4).fill(128);
  const copy = { raster: { width: SIZE[0], height: SIZE[1], data }, factor: 1 };
  expect([...findCandidates(copy, null, cv)]).toEqual([]);
});
