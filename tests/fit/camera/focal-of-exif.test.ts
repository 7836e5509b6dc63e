import { expect, test } from 'vitest';
import { focalOfExif } from '../../../src/fit/camera/focal-of-exif.ts';

const LENS = {
  FocalLength: 18,
  // An APS-C sensor, 22.3 mm wide, of 5184 pixels across.
  FocalPlaneXResolution: 5184 / (22.3 / 25.4),
  FocalPlaneResolutionUnit: 2,
  ExifImageWidth: 5184,
  ExifImageHeight: 3456,
};

test('the equivalent focal length refers to the diagonal of the 35 mm frame', () => {
  expect(focalOfExif({ FocalLengthIn35mmFormat: 26 }, [40, 30])).toBeCloseTo((26 / 43.267) * 50, 2);
});

test("the lens's own focal length and the sensor's resolution tell it too", () => {
  const whole = (18 / 22.3) * 5184;
  expect(focalOfExif(LENS, [5184, 3456])).toBeCloseTo(whole, 0);
  expect(focalOfExif(LENS, [1200, 800])).toBeCloseTo((whole * 1200) / 5184, 0);
  expect(focalOfExif(LENS, [800, 1200])).toBeCloseTo((whole * 1200) / 5184, 0);
  expect(focalOfExif({ ...LENS, FocalPlaneResolutionUnit: 'inches' }, [5184, 3456])).toBeCloseTo(
    whole,
    0,
  );
});

test('a picture that was cut, a sensor of no size and a lens of no length tell nothing', () => {
  expect(focalOfExif(LENS, [1000, 1000])).toBeUndefined();
  const phone = { FocalLengthIn35mmFormat: 26, ExifImageWidth: 4032, ExifImageHeight: 3024 };
  expect(focalOfExif(phone, [3444, 1996])).toBeUndefined();
  expect(focalOfExif(phone, [900, 1200])).toBeCloseTo((26 / 43.267) * 1500, 0);
  expect(focalOfExif({ ...LENS, FocalPlaneXResolution: 72 }, [5184, 3456])).toBeUndefined();
  expect(focalOfExif({ FocalLength: 4.2 }, [4000, 3000])).toBeUndefined();
  expect(focalOfExif({ FocalLengthIn35mmFormat: 65535 }, [40, 30])).toBeUndefined();
  expect(focalOfExif({}, [40, 30])).toBeUndefined();
});
