import { expect, test } from 'vitest';
import type { FaceFit } from '../../../src/fit/camera/face-fit.ts';
import { aboveFace, photoToSheet } from '../../../src/fit/camera/project.ts';
import {
  arrowGeometry,
  heightOfEnd,
  LEAN_SD,
  rearStretch,
} from '../../../src/marks/standing/arrow-geometry.ts';

const tilt = (20 * Math.PI) / 180;

/** A camera 1.5 m away that looks at the face 20 degrees from the side. */
const fit: FaceFit = {
  face: 'wa80',
  photoSize: [2000, 2000],
  pose: {
    rotation: [Math.cos(tilt), 0, Math.sin(tilt), 0, -1, 0, Math.sin(tilt), 0, -Math.cos(tilt)],
    translationMm: [0, 0, 1500],
  },
  focal: { px: 2000, source: 'exif' },
  lens: { k1: 0, k2: 0, centrePx: [1000, 1000] },
  bulge: [],
  spotCentresMm: [[0, 0]],
  residualMm: 0.1,
  misfitMm: 0,
  tiltDeg: 20,
  upFrom: 'photo',
  upSdDeg: 1,
  covariance: [],
  notes: [],
};

test('the image of an arrow on the flat face runs where the camera model puts it', () => {
  const entry = [40, -70] as const;
  const lean = [0.02, 0.05] as const;
  const { footMm, heightMm } = arrowGeometry(fit);
  for (const z of [50, 200, 600]) {
    const px = aboveFace(fit, [entry[0] + z * lean[0], entry[1] + z * lean[1]], z);
    const seen = photoToSheet(fit, px);
    const scale = (z * heightMm) / (heightMm - z);
    expect(seen[0]).toBeCloseTo(
      entry[0] + scale * ((entry[0] - footMm[0]) / heightMm + lean[0]),
      6,
    );
    expect(seen[1]).toBeCloseTo(
      entry[1] + scale * ((entry[1] - footMm[1]) / heightMm + lean[1]),
      6,
    );
  }
});

test('the rear end of an arrow that leans a little lies in the stretch that is looked at', () => {
  const geometry = arrowGeometry(fit);
  const entry = [40, -70] as const;
  for (const lean of [
    [0, 0],
    [0.03, 0.04],
    [-0.02, 0.02],
  ] as const) {
    for (const nockMm of [450, 700]) {
      const nock = photoToSheet(
        fit,
        aboveFace(fit, [entry[0] + nockMm * lean[0], entry[1] + nockMm * lean[1]], nockMm),
      );
      const [dx, dy] = [nock[0] - entry[0], nock[1] - entry[1]];
      const seenMm = Math.hypot(dx, dy);
      const stretch = rearStretch(geometry, entry, [dx / seenMm, dy / seenMm]);
      expect(stretch.fromMm).toBeLessThan(seenMm);
      expect(stretch.toMm).toBeGreaterThan(seenMm);
    }
  }
});

test('the end of an image tells how far an arrow stands out, leaning as much as is usual', () => {
  const entry = [600, -70] as const;
  const { footMm, heightMm } = arrowGeometry(fit);
  const far = Math.hypot(entry[0] - footMm[0], entry[1] - footMm[1]);
  for (const z of [50, 200, 600]) {
    for (const lean of [-LEAN_SD, 0, LEAN_SD]) {
      const part = lean / far;
      const px = aboveFace(
        fit,
        [
          entry[0] + z * part * (entry[0] - footMm[0]),
          entry[1] + z * part * (entry[1] - footMm[1]),
        ],
        z,
      );
      const end = photoToSheet(fit, px);
      const length = Math.hypot(end[0] - entry[0], end[1] - entry[1]);
      const most = heightOfEnd({ footMm, heightMm }, entry, length);
      if (lean === -LEAN_SD) expect(most).toBeCloseTo(z, 6);
      else expect(most).toBeGreaterThan(z);
    }
  }
});
