import { expect, test } from 'vitest';
import type { SheetMm } from '../../../src/face/coordinates.ts';
import type { ArrowGeometry } from '../../../src/marks/standing/arrow-geometry.ts';
import {
  cameraFromStrips,
  directionDensity,
  type SeenLine,
} from '../../../src/marks/standing/camera-from-strips.ts';

const trueCamera: ArrowGeometry = { footMm: [-900, -200], heightMm: 1200 };
const entries: SheetMm[] = [
  [0, 0],
  [80, -60],
  [-120, 40],
  [30, 150],
  [-40, -170],
  [200, 90],
];

/** Lines of arrows that enter at `entries`, each leaning a little its own way, the ends in either order. */
function linesSeenFrom({ footMm, heightMm }: ArrowGeometry): SeenLine[] {
  return entries.map((entry, i) => {
    const lean = [0.03 * Math.cos(2 * i), 0.03 * Math.sin(3 * i)] as const;
    const end: SheetMm = [
      entry[0] + 300 * ((entry[0] - footMm[0]) / heightMm + lean[0]),
      entry[1] + 300 * ((entry[1] - footMm[1]) / heightMm + lean[1]),
    ];
    return {
      ends: i % 2 === 0 ? [entry, end] : [end, entry],
      entryOdds: [0, 0],
      weight: 1,
    };
  });
}

const slopeOf = ({ footMm, heightMm }: ArrowGeometry) => footMm.map((foot) => -foot / heightMm);

test.each([
  ['a fit that is right', trueCamera],
  ['a fit that looks too much from the front', { footMm: [-250, 0], heightMm: 1500 } as const],
  [
    'a fit that took the wrong side for the near one',
    { footMm: [700, 100], heightMm: 1200 } as const,
  ],
])('shafts tell where the camera was, beside %s', (_, fitted) => {
  const { geometry, slopeSd } = cameraFromStrips(fitted, linesSeenFrom(trueCamera));
  const [x, y] = slopeOf(geometry);
  // Lines tell the direction well, how steep it is less so.
  const turn = Math.atan2(y!, x!) - Math.atan2(200, 900);
  expect(Math.abs(turn)).toBeLessThan(0.12);
  expect(Math.hypot(x!, y!)).toBeGreaterThan(0.1);
  expect(slopeSd).toBeLessThan(0.3);
});

test('without shafts what the fit says stands', () => {
  const { geometry } = cameraFromStrips(trueCamera, []);
  const [x, y] = slopeOf(geometry);
  expect(x).toBeCloseTo(0.75, 1);
  expect(y).toBeCloseTo(0.17, 1);
});

test('directions have the density of a shifted normal: 1 on average all round', () => {
  for (const slope of [
    [0, 0],
    [0.05, 0.02],
    [0.6, -0.3],
  ] as const) {
    const steps = 720;
    let sum = 0;
    for (let k = 0; k < steps; k++) {
      const angle = (2 * Math.PI * k) / steps;
      sum += directionDensity(slope, [Math.cos(angle), Math.sin(angle)], 0.07);
    }
    expect(sum / steps).toBeCloseTo(1, 3);
  }
});
