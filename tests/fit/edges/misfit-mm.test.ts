import { expect, test } from 'vitest';
import type { CameraSolution } from '../../../src/fit/camera/solve-camera.ts';
import { misfitMm } from '../../../src/fit/edges/misfit-mm.ts';
import type { RingEdges } from '../../../src/fit/edges/ring-edges.ts';

const PX_PER_MM = 2;
const PLACES = 120;

/** Three rings of which each place is off by so much, px. */
function rings(offPx: (angle: number, ring: number) => number) {
  const points: RingEdges['points'] = [];
  const residual: number[] = [];
  for (const ring of [0, 1, 2]) {
    for (let k = 0; k < PLACES; k++) {
      const angle = (2 * Math.PI * k) / PLACES;
      const radius = 500 - 100 * ring;
      const px = [radius * Math.cos(angle), radius * Math.sin(angle)] as const;
      points.push({ spot: 0, ring, px, angle, sdPx: 1 });
      residual.push(offPx(angle, ring));
    }
  }
  const edges: Pick<RingEdges, 'points' | 'profiles'> = {
    points,
    profiles: points.map(({ spot, ring }) => ({
      spot,
      ring,
      pxPerMm: PX_PER_MM,
      light: new Float64Array(0),
      spacingPx: 1,
      atPx: 0,
    })),
  };
  const solution: Pick<CameraSolution, 'residualPx' | 'weight'> = {
    residualPx: Float64Array.from(residual),
    weight: new Float64Array(residual.length).fill(1),
  };
  return misfitMm(edges, solution);
}

/** Noise of one standard deviation (Box and Muller 1958) from a generator with a fixed start. */
function noise(): () => number {
  let state = 7;
  const uniform = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

test('the noise of single places is no misfit', () => {
  const draw = noise();
  expect(rings(() => draw())).toBeLessThan(0.2);
});

test('a wave of the paper is, however noisy its places are', () => {
  const draw = noise();
  const amplitudeMm = 1.5;
  const found = rings(
    (angle) => PX_PER_MM * amplitudeMm * Math.sin(3 * angle) + 0.5 * draw() * PX_PER_MM,
  );
  expect(found).toBeGreaterThan((0.85 * amplitudeMm) / Math.SQRT2);
  expect(found).toBeLessThan((1.15 * amplitudeMm) / Math.SQRT2);
});
