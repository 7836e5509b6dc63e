import { expect, test } from 'vitest';
import { FACES, ringRadiiMm } from '../../../src/face/faces.ts';
import { stateOfFit } from '../../../src/fit/camera/camera-state.ts';
import { photoToSheet, pxPerMm, sheetToSpot } from '../../../src/fit/camera/project.ts';
import { edgeLook } from '../../../src/fit/edges/edge-look.ts';
import { ringEdges } from '../../../src/fit/edges/ring-edges.ts';
import { cameraFit, type CameraOptions } from '../camera-fit.ts';
import { PAINTED_LINE_MM, paintedFace } from '../painted-face.ts';

const SIZE = [400, 300] as const;

function edgesOf(camera: CameraOptions, start: CameraOptions = camera) {
  const fit = cameraFit({ photoSize: SIZE, ...camera });
  const state = stateOfFit(cameraFit({ photoSize: SIZE, ...start }));
  const copy = { raster: paintedFace(fit), factor: 1 };
  const look = { lineMm: PAINTED_LINE_MM, blurPx: 0.5 };
  return { fit, edges: ringEdges(copy, state, { look, reachPx: () => 4 }) };
}

test.each([
  ['from in front', { tiltDeg: 0 }],
  ['from the side', { tiltDeg: 40, azimuthDeg: 30 }],
  ['through a bent lens', { tiltDeg: 10, k1: -0.1 }],
])('finds printed rings where they are, seen %s from a start two pixels off', (_, camera) => {
  const { fit, edges } = edgesOf(camera, { ...camera, offsetPx: [2, -1] });
  const radii = ringRadiiMm(FACES[fit.face]);
  const errors = edges.points.map(({ px, ring }) => {
    const mm = photoToSheet(fit, px);
    return Math.abs(Math.hypot(mm[0], mm[1]) - radii[ring]!) * pxPerMm(fit, mm);
  });
  errors.sort((a, b) => a - b);
  expect(errors.length).toBeGreaterThan(200);
  expect(errors[Math.floor(0.5 * errors.length)]).toBeLessThan(0.1);
  expect(errors[Math.floor(0.9 * errors.length)]).toBeLessThan(0.4);
  // The rings of a ten-zone face that a line or a change of ink shows, and no other.
  const seen = new Set(edges.points.map(({ ring }) => ring));
  expect(seen.size).toBeGreaterThanOrEqual(9);
});

test('says how much of a ring lies within the frame', () => {
  const { edges } = edgesOf({ offsetPx: [-200, 0] });
  // The centre is on the frame's left edge: half of every ring, but for strips across the edge.
  for (const share of edges.inFrame[0]!.slice(0, 6))
    expect(Math.abs(share - 0.5)).toBeLessThan(0.06);
});

test('tells each spot from the others on a sheet of three', () => {
  const camera = { face: 'wa40-triple-vertical', offsetPx: [5, 3] } as const;
  const { fit, edges } = edgesOf(camera);
  expect(new Set(edges.points.map(({ spot }) => spot))).toEqual(new Set([0, 1, 2]));
  for (const { spot, px } of edges.points) {
    expect(sheetToSpot(fit, photoToSheet(fit, px)).spot).toBe(spot);
  }
});

test('measures how wide lines are printed', () => {
  const { fit, edges } = edgesOf({ tiltDeg: 0, distanceMm: 250 });
  const weights = edges.points.map(() => 1);
  const look = edgeLook(FACES[fit.face], edges.profiles, weights, { lineMm: 99, blurPx: 99 });
  expect(Math.abs(look.lineMm / PAINTED_LINE_MM - 1)).toBeLessThan(0.15);
  expect(look.blurPx).toBeLessThan(1);
  const none = { lineMm: 1, blurPx: 2 };
  expect(edgeLook(FACES[fit.face], [], [], none)).toBe(none);
});
