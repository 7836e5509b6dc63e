import { expect, test } from 'vitest';
import { peakSd, pxAlong } from '../../../src/marks/standing/peak-sd.ts';
import { cameraFit } from '../../fit/camera-fit.ts';

const SHAFT_MM = 6;
const FINE = { alongPxPerMm: 3, acrossPxPerMm: 3 };

test('an entry is known worse the fainter its heat and the coarser the photo, along more than across', () => {
  const clear = peakSd(0.6, SHAFT_MM, FINE);
  const faint = peakSd(0.3, SHAFT_MM, FINE);
  expect(faint.alongSd).toBeCloseTo(2 * clear.alongSd, 9);
  expect(faint.acrossSd).toBeCloseTo(2 * clear.acrossSd, 9);
  expect(clear.alongSd).toBeGreaterThan(clear.acrossSd);
  const coarse = peakSd(0.6, SHAFT_MM, { alongPxPerMm: 0.5, acrossPxPerMm: 3 });
  expect(coarse.alongSd).toBeGreaterThan(2 * clear.alongSd);
  expect(coarse.acrossSd).toBe(clear.acrossSd);
});

test('a photo shows fewer pixels of a millimetre in the direction from which it is taken', () => {
  const fit = cameraFit({ face: 'wa80', tiltDeg: 60, azimuthDeg: 0, photoSize: [1600, 1200] });
  const one = pxAlong(fit, 0, [0, 0], [1, 0]);
  const other = pxAlong(fit, 0, [0, 0], [0, 1]);
  expect(one.alongPxPerMm).toBeCloseTo(other.acrossPxPerMm, 9);
  const [less, more] = [one.alongPxPerMm, one.acrossPxPerMm].sort((a, b) => a - b) as [
    number,
    number,
  ];
  // The cosine of the tilt.
  expect(less / more).toBeCloseTo(0.5, 2);
});
