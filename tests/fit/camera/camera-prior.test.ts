import { expect, test } from 'vitest';
import {
  EXIF_FOCAL_SD,
  isTooShort,
  partPrior,
  priorOf,
  withUsualLens,
} from '../../../src/fit/camera/camera-prior.ts';

// The field of view of a lens follows from focal length and frame alone: a 35 mm frame (36 x 24 mm,
// ISO 1007) has a diagonal of 43.27 mm.
test('without EXIF a photo is taken for one of a phone, of whatever size', () => {
  for (const size of [
    [4000, 3000],
    [1200, 900],
    [3024, 4032],
  ] as const) {
    const { focalPx, logFocalSd } = priorOf(size, undefined);
    const equivalentMm = (focalPx / Math.hypot(...size)) * 43.27;
    expect(equivalentMm).toBeGreaterThan(24);
    expect(equivalentMm).toBeLessThan(28);
    // The tele lens of many phones (about twice as long) is within three standard deviations.
    expect(Math.log(2) / logFocalSd).toBeLessThan(3);
  }
});

test('EXIF is believed, to a whole millimetre of a short lens', () => {
  const prior = priorOf([4000, 3000], 2900);
  expect(prior.focalPx).toBe(2900);
  expect(prior.logFocalSd).toBe(EXIF_FOCAL_SD);
  // Half a millimetre of the 26 mm that phones write.
  expect(0.5 / 26).toBeLessThan(prior.logFocalSd);
});

test('of a part cut out of a photo neither middle nor scale is known', () => {
  const whole = priorOf([4000, 3000], 2900);
  const part = partPrior([1200, 900], whole);
  expect(part.centreSdPx).toBeGreaterThan(0.15 * 1500);
  expect(part.logFocalSd).toBeGreaterThan(whole.logFocalSd);
  expect(part.k1Sd).toBe(whole.k1Sd);
});

test('no lens is shorter than those of phones for the widest views', () => {
  // 13 mm on a 35 mm frame, as phones write of their widest lens (from memory), and a fisheye's 8 mm.
  const ofMm = (mm: number): number => (mm / 43.27) * 5000;
  expect(isTooShort([4000, 3000], ofMm(13))).toBe(false);
  expect(isTooShort([4000, 3000], ofMm(8))).toBe(true);
  const prior = priorOf([4000, 3000], undefined);
  const usual = withUsualLens(prior);
  expect(usual.focalPx).toBe(prior.focalPx);
  expect(usual.logFocalSd).toBeLessThan(prior.logFocalSd / 2);
  expect(withUsualLens(priorOf([4000, 3000], 2900)).logFocalSd).toBe(EXIF_FOCAL_SD);
});
