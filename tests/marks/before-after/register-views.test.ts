import { describe, expect, test } from 'vitest';
import type { SpotMm } from '../../../src/face/coordinates.ts';
import { registerViews } from '../../../src/marks/before-after/register-views.ts';
import type { HoleCandidate } from '../../../src/marks/candidates/hole-candidate.ts';
import { checkSameFace } from '../../../src/marks/before-after/new-holes.ts';
import type { ReadingError } from '../../../src/request/reading-error.ts';
import { Random } from '../../rendering/random.ts';

const hole = (mm: SpotMm): HoleCandidate => ({
  spot: 0,
  mm,
  sdMm: 0.2,
  probability: 0.99,
  freshness: 0,
});

const random = new Random(7);
const uniform = (reach: number) => random.uniform(-reach, reach);
const holes = Array.from({ length: 30 }, (): SpotMm => [uniform(200), uniform(200)]);

test('finds a turn about the centre and a small shift from the holes that both show', () => {
  const turn = (5 * Math.PI) / 180;
  const moved = holes.map(([x, y]): SpotMm => [
    x * Math.cos(turn) - y * Math.sin(turn) + 0.8 + uniform(0.2),
    x * Math.sin(turn) + y * Math.cos(turn) - 0.5 + uniform(0.2),
  ]);
  const found = registerViews(
    moved.map(hole),
    [...holes.map(hole), hole([300, 20])],
    6,
    () => true,
  );
  expect(found.clear).toBe(30);
  expect(found.matched).toBe(30);
  expect(found.sdMm).toBeLessThan(0.3);
  const [x, y] = found.toBefore([100, 50]);
  expect(x).toBeCloseTo(100 * Math.cos(turn) - 50 * Math.sin(turn) + 0.8, 0);
  expect(y).toBeCloseTo(100 * Math.sin(turn) + 50 * Math.cos(turn) - 0.5, 0);
});

test('matches hardly any hole of another face', () => {
  const others = Array.from({ length: 30 }, (): SpotMm => [uniform(200), uniform(200)]);
  const found = registerViews(others.map(hole), holes.map(hole), 6, () => true);
  expect(found.matched).toBeLessThan(0.3 * found.clear);
});

describe('a face with hundreds of holes, of which each photo parts less than half alike', () => {
  const used = new Random(11);
  /** Holes crowd towards the middle. */
  const crowd = (count: number) =>
    Array.from({ length: count }, (): SpotMm => [used.normal(110), used.normal(110)]);
  const noisy = ([x, y]: SpotMm): SpotMm => [x + used.normal(0.5), y + used.normal(0.5)];
  const verdict = (before: readonly SpotMm[], after: readonly SpotMm[]): string => {
    const found = registerViews(before.map(hole), after.map(hole), 6, () => true);
    try {
      checkSameFace([{ ...found, fresh: [], old: [] }], undefined);
      return `same: ${found.matched} of ${found.clear}, by chance ${found.matchedByChance}`;
    } catch (error) {
      return `${(error as ReadingError).code}: ${found.matched} of ${found.clear}`;
    }
  };

  test('is known again', () => {
    const shared = crowd(180);
    const before = [...shared, ...crowd(220)];
    const after = [...shared.map(noisy), ...crowd(220)];
    expect(verdict(before, after)).toMatch(/^same/);
  });

  test('is told from another one as much used', () => {
    expect(verdict(crowd(400), crowd(400))).toMatch(/^before-differs/);
  });
});
