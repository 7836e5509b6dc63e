import { expect, test } from 'vitest';
import { pooledSpread, pooledSquares } from '../../src/trends/pooled-spread.ts';
import type { TrendEnd } from '../../src/trends/trend-ends.ts';
import { random } from '../groups/random.ts';

function end(fletched: number, squares: number): TrendEnd {
  return { fletched, squaresMrad2: { fletched: squares, bare: 0 } } as TrendEnd;
}

// Pooled variance: sums of squares over the sum of their degrees of freedom (NIST/SEMATECH e-Handbook,
// 7.3.1.1), here two a spare arrow, because both axes count.
test('ends are pooled by their degrees of freedom', () => {
  expect(pooledSquares([end(3, 8), end(5, 4), end(1, 0)])).toEqual({ squaresMrad2: 12, df: 12 });
  expect(pooledSpread([end(3, 8), end(5, 4)])!.sigmaMrad).toBeCloseTo(1, 12);
});

test('single arrows tell no spread', () => {
  expect(pooledSpread([end(1, 0), end(1, 0)])).toBeNull();
  expect(pooledSpread([])).toBeNull();
});

test('nine of ten intervals hold the spread that the arrows were drawn with', () => {
  const { normal } = random(11);
  let held = 0;
  for (let draw = 0; draw < 1000; draw++) {
    let squares = 0;
    for (let i = 0; i < 20; i++) squares += (1.5 * normal()) ** 2;
    const [low, high] = pooledSpread([end(6, squares / 2), end(6, squares / 2)])!.interval90;
    held += low <= 1.5 && high >= 1.5 ? 1 : 0;
  }
  expect(Math.abs(held / 1000 - 0.9)).toBeLessThan(0.03);
});

test('so do those of a few arrows, where the law of the spread is skew', () => {
  const { normal } = random(12);
  let [below, above] = [0, 0];
  for (let draw = 0; draw < 2000; draw++) {
    const squares = [1, 2, 3, 4].reduce((sum) => sum + (1.5 * normal()) ** 2, 0);
    const [low, high] = pooledSpread([end(3, squares)])!.interval90;
    if (high < 1.5) below++;
    if (low > 1.5) above++;
  }
  expect(Math.abs(below / 2000 - 0.05)).toBeLessThan(0.015);
  expect(Math.abs(above / 2000 - 0.05)).toBeLessThan(0.015);
});
