import { Matrix, inverse } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import { conicThrough, ellipseOf, pencilOf, type Conic } from '../../../src/fit/camera/conic.ts';

/** Image conic of a circle of radius r about the optical axis, tilted, f = 3000 px. */
function imagedCircle(radius: number, distance: number, tiltDeg: number): Conic {
  const tilt = (tiltDeg * Math.PI) / 180;
  const toImage = new Matrix([
    [3000, 0, 0],
    [0, 3000 * Math.cos(tilt), 0],
    [0, Math.sin(tilt), distance],
  ]);
  const back = inverse(toImage);
  return back
    .transpose()
    .mmul(Matrix.diag([1, 1, -radius * radius]))
    .mmul(back)
    .to1DArray();
}

describe('conics of concentric circles', () => {
  // Computed with an independent program from the stated formula: r = 305 and 610 mm, 2.5 m, 20
  // degrees, f = 3000 px give eigenvalues 4, 1, 1 and the centre to 2e-12 px.
  test('the pencil gives eigenvalues 4, 1, 1, and the imaged centre', () => {
    const pencil = pencilOf(imagedCircle(305, 2500, 20), imagedCircle(610, 2500, 20))!;
    expect(pencil.eigenvalues[0]).toBeCloseTo(4, 10);
    expect(pencil.eigenvalues[1]).toBeCloseTo(1, 6);
    expect(pencil.eigenvalues[2]).toBeCloseTo(1, 6);
    expect(Math.hypot(...pencil.centre)).toBeLessThan(2e-12);
    const [a, b, c] = pencil.vanishingLine;
    expect(a).toBeCloseTo(0, 10);
    // The plane's horizon: sin(tilt) y = cos(tilt) f, seen from the face's middle.
    expect(-c / b).toBeCloseTo(3000 / Math.tan((20 * Math.PI) / 180), 6);
  });

  // e = f r^2 sin cos / (d^2 - r^2 sin^2): the same source's table, px.
  test.each([
    [610, 2500, 5, 15.5],
    [610, 2500, 20, 57.8],
    [610, 2500, 30, 78.5],
    [200, 1200, 20, 26.9],
    [61, 2500, 20, 0.57],
  ])("an ellipse's centre is off: r %d mm, %d mm away, %d degrees", (r, d, tilt, px) => {
    const { centre } = ellipseOf(imagedCircle(r, d, tilt))!;
    expect(Math.abs(Math.hypot(...centre) - px)).toBeLessThan(px < 1 ? 0.005 : 0.05);
  });

  test('a conic through exact points is the conic', () => {
    const points = Array.from({ length: 9 }, (_, i) => {
      const t = (i * 2 * Math.PI) / 9;
      const [x, y] = [90 * Math.cos(t), 40 * Math.sin(t)];
      return [500 + 0.8 * x - 0.6 * y, 300 + 0.6 * x + 0.8 * y] as const;
    });
    const ellipse = ellipseOf(conicThrough(points, [505, 296])!)!;
    expect(ellipse.centre[0]).toBeCloseTo(500, 8);
    expect(ellipse.centre[1]).toBeCloseTo(300, 8);
    expect(ellipse.semiAxes[0]).toBeCloseTo(90, 8);
    expect(ellipse.semiAxes[1]).toBeCloseTo(40, 8);
    expect(Math.tan(ellipse.angle)).toBeCloseTo(0.75, 8);
  });
});
