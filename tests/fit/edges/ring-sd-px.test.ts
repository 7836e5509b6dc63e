import { expect, test } from 'vitest';
import { PARAMETER, stateOfFit } from '../../../src/fit/camera/camera-state.ts';
import { ringSdPx } from '../../../src/fit/edges/ring-sd-px.ts';
import { cameraFit } from '../camera-fit.ts';

function covarianceOf(parameter: number, sd: number): number[][] {
  return Array.from({ length: PARAMETER.bulge }, (_, a) =>
    Array.from({ length: PARAMETER.bulge }, (_, b) => (a === parameter && b === a ? sd * sd : 0)),
  );
}

// Seen from in front at distance z by a pinhole of focal length f, a millimetre is f / z pixels.
test('a shift of the face moves every ring across by as much as it is uncertain', () => {
  const state = stateOfFit(cameraFit({ focalPx: 1500, distanceMm: 3000 }));
  expect(ringSdPx(state, covarianceOf(PARAMETER.shiftX, 2), 0, 3)).toBeCloseTo(2 * 0.5, 9);
});

test('an error of the focal length, at a size that is known, moves only what is off its plane', () => {
  const state = stateOfFit(cameraFit({ focalPx: 1500, distanceMm: 3000 }));
  expect(ringSdPx(state, covarianceOf(PARAMETER.logFocal, 0.1), 0, 0)).toBeCloseTo(0, 9);
});

test('an error of the distance moves a ring by its share of the radius', () => {
  const state = stateOfFit(cameraFit({ focalPx: 1500, distanceMm: 3000 }));
  // The outermost ring of the 80 cm face is 400 mm, or 200 px, wide: 1 % of it.
  expect(ringSdPx(state, covarianceOf(PARAMETER.shiftZ, 30), 0, 0)).toBeCloseTo(2, 9);
});
