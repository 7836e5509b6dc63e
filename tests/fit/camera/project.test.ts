import { beforeAll, describe, expect, test } from 'vitest';
import type { FaceFit } from '../../../src/fit/camera/face-fit.ts';
import {
  aboveFace,
  cameraOverSheet,
  halfDiagonalPx,
  photoToSheet,
  sheetToPhoto,
  sheetToSpot,
  spotToSheet,
} from '../../../src/fit/camera/project.ts';
import { loadOpenCv, type OpenCv } from '../../../src/raster/load-open-cv.ts';
import { withMats } from '../../../src/raster/with-mats.ts';
import { cameraFit } from '../camera-fit.ts';

let cv: OpenCv;
beforeAll(async () => {
  ({ cv } = await loadOpenCv());
});

/** Projection by OpenCV's projectPoints, whose k1 and k2 act on tangents, not on half diagonals. */
function projectByOpenCv(fit: FaceFit, points: [number, number, number][]): [number, number][] {
  return withMats(cv, (keep) => {
    const f = fit.focal.px;
    const perUnit = (f / halfDiagonalPx(fit.photoSize)) ** 2;
    const { k1, k2, centrePx } = fit.lens;
    const objects = keep(cv.matFromArray(points.length, 3, cv.CV_64F, points.flat()));
    const rotation = keep(cv.matFromArray(3, 3, cv.CV_64F, [...fit.pose.rotation]));
    const turn = keep(new cv.Mat());
    cv.Rodrigues(rotation, turn);
    const shift = keep(cv.matFromArray(3, 1, cv.CV_64F, [...fit.pose.translationMm]));
    const camera = keep(
      cv.matFromArray(3, 3, cv.CV_64F, [f, 0, centrePx[0], 0, f, centrePx[1], 0, 0, 1]),
    );
    const distortion = keep(
      cv.matFromArray(1, 4, cv.CV_64F, [k1 * perUnit, k2 * perUnit * perUnit, 0, 0]),
    );
    const image = keep(new cv.Mat());
    const jacobian = keep(new cv.Mat());
    cv.projectPoints(objects, turn, shift, camera, distortion, image, jacobian);
    return points.map((_, i) => [image.data64F[2 * i]!, image.data64F[2 * i + 1]!]);
  });
}

describe('projection', () => {
  const fit = cameraFit({ tiltDeg: 35, azimuthDeg: 50, k1: -0.08, k2: 0.01 });

  test('what lies between a point of the sheet and the camera is seen where the point is', () => {
    const [x, y, height] = cameraOverSheet(fit);
    const seen = sheetToPhoto(fit, [150, -220]);
    for (const share of [0.1, 0.5, 0.9]) {
      const there = [150 + share * (x - 150), -220 + share * (y + 220)] as const;
      const [px, py] = aboveFace(fit, there, share * height);
      expect(px).toBeCloseTo(seen[0], 8);
      expect(py).toBeCloseTo(seen[1], 8);
    }
  });

  test('agrees with projectPoints of OpenCV on and above the paper', () => {
    const points: [number, number, number][] = [
      [0, 0, 0],
      [380, -120, 0],
      [-200, 300, 0],
      [40, 60, 250],
    ];
    const expected = projectByOpenCv(fit, points);
    points.forEach(([x, y, z], i) => {
      const [px, py] = aboveFace(fit, [x, y], z);
      expect(px).toBeCloseTo(expected[i]![0], 8);
      expect(py).toBeCloseTo(expected[i]![1], 8);
    });
  });

  test('comes back to the same millimetres, bulged paper too', () => {
    const bulged: FaceFit = { ...fit, bulge: [0.8, 2.5, -1.1, 0.3, -0.4, 0.2, 0.1] };
    for (const mm of [[0, 0] as const, [311, 200] as const, [-390, 30] as const]) {
      const back = photoToSheet(bulged, sheetToPhoto(bulged, mm));
      expect(back[0]).toBeCloseTo(mm[0], 8);
      expect(back[1]).toBeCloseTo(mm[1], 8);
    }
  });

  test('gives positions to the nearest spot of a triple face', () => {
    const triple = cameraFit({ face: 'wa40-triple-vertical' });
    const sheet = spotToSheet(triple, 2, [12, -7]);
    expect(sheet).toEqual([12, -227]);
    expect(sheetToSpot(triple, sheet)).toEqual({ spot: 2, mm: [12, -7] });
  });
});
