import normal from '@stdlib/stats-base-dists-normal';
import { expect, test } from 'vitest';
import { edgeFinder } from '../../../src/fit/edges/edge-shapes.ts';

const BLUR = 1.2;
const SPACING = 0.5;
const SAMPLES = 61;

/** An edge as a lens with a Gaussian blur shows it, without any noise; three channels alike. */
function edgeAt(at: number, inside: number, outside: number): Float64Array {
  const light = new Float64Array(SAMPLES * 3);
  for (let j = 0; j < SAMPLES; j++) {
    const s = (j - (SAMPLES - 1) / 2) * SPACING;
    light.fill(inside + (outside - inside) * normal.cdf(s, at, BLUR), 3 * j, 3 * j + 3);
  }
  return light;
}

test.each([-2.3, -0.4, 0, 1.7])('an edge without noise at %d px is found there, surely', (at) => {
  const shape = { kind: 'step', line: null, lineWidth: 0, blur: BLUR } as const;
  const finder = edgeFinder(shape, { samples: SAMPLES, spacing: SPACING, reach: 6 });
  for (const [inside, outside] of [
    [0.8, 0.1],
    [0.02, 0.9],
    [1, 0],
  ] as const) {
    const place = finder.find(edgeAt(at, inside, outside));
    expect(place!.at).toBeCloseTo(at, 2);
    expect(place!.sd).toBeLessThan(0.01);
    expect(place!.explained).toBeGreaterThan(0.999);
  }
});

test.each(['step', 'line'] as const)('in one even tone there is no %s', (kind) => {
  for (const line of ['dark', 'light'] as const) {
    for (let samples = 31; samples < 61; samples += 2) {
      const shape = { kind, line, lineWidth: 2, blur: BLUR };
      const finder = edgeFinder(shape, { samples, spacing: SPACING, reach: 6 });
      for (let tone = 1; tone < 256; tone += 5) {
        // Means of equal values: apart by their rounding.
        const light = Float64Array.from({ length: samples * 3 }, (_, i) => {
          const part = (i % 7) / 7;
          return part * (tone / 255) + (1 - part) * (tone / 255);
        });
        expect(finder.find(light)).toBeNull();
      }
    }
  }
});
